"""The course's version: of the kit that this package stands in, else of the distribution that is installed."""

from __future__ import annotations

import json
import re
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from dryerbench.core.identity import MARK

DISTRIBUTION = "leg-to-leg"

UNKNOWN = "unknown"
"""What is said where neither a kit nor a distribution tells the version."""

FIELD = "course"
"""Under which name the version stands in a kit's mark, a notebook's mark, an answer record and a ledger entry."""

_VERSION = re.compile(r"[0-9A-Za-z][0-9A-Za-z.+!_-]{0,39}")


def readable_version(text: object) -> str:
    """Return ``text`` if it can be a version: 1 to 40 letters, digits and ``.+!_-``; else nothing."""
    return text if type(text) is str and _VERSION.fullmatch(text) else ""


def kit_version(kit: Path) -> str:
    """Return the version that the mark of the kit in the folder ``kit`` says; empty if it says none."""
    try:
        content = json.loads((kit / MARK).read_text(encoding="utf-8-sig"))
    except (OSError, ValueError, RecursionError):
        return ""
    return readable_version(content.get(FIELD)) if isinstance(content, dict) else ""


@cache
def course_version() -> str:
    """Return the version of the course that runs; ``unknown`` if nothing tells it.

    In a kit the distribution is not installed, or is another one: there the kit's own mark counts.
    """
    found = kit_version(Path(__file__).resolve().parents[3])
    if found:
        return found
    try:
        return version(DISTRIBUTION)
    except PackageNotFoundError:
        return UNKNOWN
