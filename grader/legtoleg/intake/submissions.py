"""Hand-ins: what lies in a cohort's ``submitted/``, found and read without following or trusting anything in it."""

from __future__ import annotations

import hashlib
import os
import re
import stat
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from dryerbench.core.errors import KitError, LegToLegError
from dryerbench.core.identity import checked_id
from legtoleg.core.outside_words import plain_words
from legtoleg.intake.notebook_repair import LARGEST_FILE

STAMP = "timestamp.txt"
"""The file beside a hand-in that says when it came, as nbgrader writes and reads it."""

_YEARS = (2000, 2100)
"""The first and the last year that a hand-in's time may say; a clock beyond them was never set."""


class HandInError(LegToLegError, ValueError):
    """A hand-in that cannot be opened; the text says why, in a few words."""


@dataclass(frozen=True)
class HandIn:
    """One notebook to mark: whose, for which lesson, and where it lies."""

    apprentice: str
    lesson: str
    path: Path

    @property
    def words(self) -> str:
        """How to name it to a person."""
        return f"{self.apprentice}, {self.lesson}"

    def content(self) -> bytes:
        """Return the file, if it is one.

        Raises
        ------
        HandInError
            If it is a link, a pipe or a device, or too large.
        """
        return plain_file(self.path)

    def timestamp(self) -> datetime | None:
        """Return when it came, in UTC without zone, from nbgrader's file of it; None if there is none.

        Raises
        ------
        HandInError
            If what it says is no time.
        """
        place = self.path.parent / STAMP
        if not place.exists() and not place.is_symlink():
            return None
        try:
            return _utc(plain_file(place).decode("utf-8").strip()[:60])
        except ValueError:
            raise HandInError(f"its {STAMP} does not hold a time") from None


def _utc(text: str) -> datetime:
    text = text.removesuffix(" UTC").strip()
    when = datetime.fromisoformat(re.sub(r" ([+-]\d{4})$", r"\1", text))
    if not _YEARS[0] <= when.year <= _YEARS[1]:
        raise ValueError("no year in which a hand-in came")
    return when if when.tzinfo is None else when.astimezone(UTC).replace(tzinfo=None)


def plain_file(path: Path) -> bytes:
    """Return the content of ``path``, read only if it is a plain file of a sane size.

    Raises
    ------
    HandInError
        If it is not.
    """
    flags = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    try:
        handle = os.open(path, flags)
    except OSError as error:
        said = "it is a link to somewhere else" if path.is_symlink() else f"it cannot be opened ({error.strerror})"
        raise HandInError(said) from None
    try:
        about = os.fstat(handle)
        if not stat.S_ISREG(about.st_mode):
            raise HandInError("it is not a plain file, but a folder, a pipe or a device")
        if about.st_size > LARGEST_FILE:
            raise HandInError(f"it has {about.st_size / 1e6:.0f} MB; no lesson has more than {LARGEST_FILE // 10**6}")
        with os.fdopen(handle, "rb", closefd=False) as file:
            return file.read(LARGEST_FILE + 1)
    finally:
        os.close(handle)


def digest(content: bytes) -> str:
    """Return the SHA-256 of ``content`` in hexadecimal."""
    return hashlib.sha256(content).hexdigest()


def _folders(place: Path, odd: list[str]) -> list[Path]:
    found = []
    for entry in sorted(place.iterdir()) if place.is_dir() else []:
        if entry.is_symlink():
            odd.append(f"{plain_words(entry.name, 80)}: is a link to somewhere else and was not followed.")
        elif entry.is_dir():
            found.append(entry)
    return found


def find_hand_ins(submitted: Path, lessons: list[str], lesson: str | None = None) -> tuple[list[HandIn], list[str]]:
    """Return the hand-ins of ``lessons`` (or of one ``lesson``) in order, and what is odd in the folder, in words."""
    found: list[HandIn] = []
    odd: list[str] = []
    for person in _folders(submitted, odd):
        try:
            apprentice = checked_id(person.name)
        except KitError:
            odd.append(
                f"submitted/{person.name[:80]!r}: that folder's name cannot be an id, so nothing in it was graded."
            )
            continue
        for folder in _folders(person, odd):
            if folder.name not in lessons:
                odd.append(f"{apprentice}: {folder.name[:80]!r} is not a lesson of this cohort.")
            elif lesson in (None, folder.name):
                path = folder / f"{folder.name}.ipynb"
                if path.exists() or path.is_symlink():
                    found.append(HandIn(apprentice, folder.name, path))
                else:
                    odd.append(f"{apprentice}, {folder.name}: has no {path.name}; take the file in with collect.")
    return found, odd
