"""Leg to Leg's bench: what an apprentice holds (circuit, meter, figures, practice, hand-in)."""
