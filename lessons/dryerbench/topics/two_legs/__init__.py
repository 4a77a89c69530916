"""The lesson two legs: its sheet, models, slips, drills and figures."""
