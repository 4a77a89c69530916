"""One check of the doctor: what was looked at, how it is, and the cure."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Check:
    """One check: what was looked at, how it is, and the cure if it is not well. ``must``: without it nothing works."""

    what: str
    well: bool
    found: str
    cure: str = ""
    must: bool = True
