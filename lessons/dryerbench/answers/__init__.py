"""Answers: units, what was typed and how it is read, what is asked about, and how far off still counts."""
