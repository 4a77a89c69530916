"""Topics: one folder a lesson (sheet, models, slips, drills, figures)."""
