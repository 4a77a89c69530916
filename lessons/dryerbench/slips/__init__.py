"""Slips: the mistakes that people really make, each with what to say and where the lesson cures it.

Each lesson has a module here with its ``SLIPS``; a code is written once, and other lessons may use it.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass

from dryerbench.members import members


@dataclass(frozen=True)
class Slip:
    """A known mistake: its short code, the sentence for the person, the part of the lesson that cures it."""

    code: str
    says: str
    cure: str


SLIPS: dict[str, Slip] = {slip.code: slip for module in members(sys.modules[__name__]) for slip in module.SLIPS}
"""Every slip of every lesson by its code."""
