"""The lesson path to case: its sheet, models, slips, drills and figures."""
