"""Slips: the mistakes that people really make, each with what to say and where the lesson cures it.

Each topic has a module ``slips`` with its ``SLIPS``; a code is written once, and other lessons may use it.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Slip:
    """A known mistake: its short code, the sentence for the person, the part of the lesson that cures it."""

    code: str
    says: str
    cure: str
