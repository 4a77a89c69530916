"""The lesson trusting the meter: its sheet, models, slips, drills and figures."""
