"""The lesson open and close: its sheet, models, slips, drills and figures."""
