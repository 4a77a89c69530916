"""The lesson air and drying: its sheet, models, slips, drills and figures."""
