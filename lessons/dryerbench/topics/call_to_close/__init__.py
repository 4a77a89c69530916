"""The lesson call to close: its sheet, models, slips, drills and figures."""
