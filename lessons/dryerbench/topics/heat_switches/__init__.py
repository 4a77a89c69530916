"""The lesson heat switches: its sheet, models, slips, drills and figures."""
