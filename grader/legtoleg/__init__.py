"""Leg to Leg's marker: what an instructor holds (reference answers, marking, cohort, report)."""
