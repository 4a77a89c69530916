"""The notebook: what an apprentice meets there (hand-in, practice, bench panel, progress)."""
