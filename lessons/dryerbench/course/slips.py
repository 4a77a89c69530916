"""Slips: the mistakes that people really make, each with what to say and where the lesson cures it.

Each topic has a module ``slips`` with its ``SLIPS``; a code is written once, and other lessons may use it.
The code is the key in records and in tables for machines. People read the title.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Slip:
    """A known mistake: its short code, its title, the sentence for the person, the part of the lesson that cures it."""

    code: str
    title: str
    """The mistake in two to six plain words that stand alone, without the question: what an instructor reads."""
    says: str
    cure: str
