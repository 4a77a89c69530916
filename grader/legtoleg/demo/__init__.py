"""The demo: a made-up cohort and the truth about it."""
