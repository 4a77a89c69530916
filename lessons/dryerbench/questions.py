"""Marked questions: what is asked, in which unit, to how many figures, for how many points."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Question:
    """One marked question. Its worked answer and its reference are held by the instructor."""

    name: str
    title: str
    """What is asked, in a few words, for tables and reports."""
    unit: str
    """The unit it is asked in, a symbol of ``dryerbench.units``."""
    figures: int
    """How many significant figures count."""
    points: int
    safety: bool = False
    """Whether a wrong answer keeps the lesson from being signed off."""
    exact: bool = False
    """Whether the number has to be met exactly (a rating from a table)."""

    @property
    def asked(self) -> str:
        """How the answer is wanted, in words."""
        how = "the exact rating" if self.exact else f"{self.figures} figures"
        return f"in {self.unit}, {how}"
