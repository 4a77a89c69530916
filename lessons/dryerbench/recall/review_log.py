"""The log of reviews: what was asked, when, and how it went. One line each, only ever added to."""

from __future__ import annotations

import json
import os
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from fsrs import Rating

FILE = "memory.jsonl"
"""Beside the kit's mark; without a kit, beside the lessons."""


@dataclass(frozen=True)
class Review:
    """One card that was asked: its name, when (UTC), and how it went."""

    card: str
    at: datetime
    rating: Rating


def line(review: Review) -> str:
    """Return the line of the file for ``review``."""
    return json.dumps({"card": review.card, "at": review.at.isoformat(), "rating": review.rating.name.lower()}) + "\n"


def _review(text: str) -> Review | None:
    try:
        found = json.loads(text)
        at = datetime.fromisoformat(found["at"])
        return Review(str(found["card"]), at.astimezone(UTC), Rating[str(found["rating"]).capitalize()])
    except (ValueError, KeyError, TypeError, AttributeError, OverflowError):
        return None


def read(lines: Iterable[str]) -> list[Review]:
    """Return the reviews in ``lines``, the oldest first; a line that is damaged counts as nothing."""
    return sorted((found for text in lines if (found := _review(text)) is not None), key=lambda one: one.at)


def load(path: Path) -> list[Review]:
    """Return the reviews kept in ``path``; no file counts as none."""
    try:
        return read(path.read_text(encoding="utf-8", errors="replace").splitlines())
    except OSError:
        return []


def add(path: Path, review: Review) -> bool:
    """Add ``review`` to ``path``, on the disk before this returns; return whether it could be written."""
    try:
        with path.open("a+b") as file:
            ends = file.seek(0, os.SEEK_END) == 0 or not file.seek(-1, os.SEEK_END) or file.read(1) == b"\n"
            if file.tell() and not ends:
                file.write(b"\n")  # a line that was cut short by a power cut keeps to itself
            file.write(line(review).encode("utf-8"))
            file.flush()
            os.fsync(file.fileno())
    except OSError:
        return False
    return True
