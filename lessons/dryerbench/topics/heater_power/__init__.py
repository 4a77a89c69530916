"""The lesson heater power: its sheet, models, slips, drills and figures."""
