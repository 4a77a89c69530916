"""Intake: rosters, and files from outside, read without trusting them."""
