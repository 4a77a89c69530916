"""The lesson tracing the circuit: its sheet, models, slips, drills and figures."""
