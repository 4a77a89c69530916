"""The lesson made dead: its sheet, models, slips, drills and figures."""
