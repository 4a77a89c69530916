"""Marking: answers as data in, outcomes out."""
