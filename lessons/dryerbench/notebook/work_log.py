"""The work log: what was done and answered, kept line by line beside the lessons as it happens.

One file for each lesson, ``kept_work/<lesson>.jsonl`` beside the kit's mark. A line is written whole and only ever
added; each carries a check of itself, so a damaged one costs itself alone. What stands there is no mark and no reading:
acts are done again on the machine, answers are read again, and the marker does both once more.
"""

from __future__ import annotations

import json
import os
import time
import zlib
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

from dryerbench.core.identity import WORK
from dryerbench.drawing.interactive_figure import MODE
from dryerbench.notebook.progress import root

FORM = 1
"""The version of a line's form."""

_CHECK = "check"

Line = dict[str, object]


@dataclass(frozen=True)
class Kept:
    """What a log holds: its lines that can be read, oldest first, and how many cannot."""

    lines: list[Line] = field(default_factory=list)
    damaged: int = 0


@dataclass(eq=False)
class WorkLog:
    """The log at ``path``, written by one running page: where another page writes too, this one stops."""

    path: Path
    _size: int | None = None

    @property
    def elsewhere(self) -> bool:
        """Tell whether another page wrote into this log since it was last read or written here."""
        return self._size is not None and _size(self.path) != self._size

    def add(self, kind: str, card: str, **more: object) -> bool:
        """Add one line about the card ``card`` and tell whether it is kept; where nothing can be written, nothing is.

        Any process may end at any byte of it: then the line is damaged, and no other.
        """
        if self.elsewhere:
            return False
        line = {"form": FORM, "kind": kind, "card": card, "at": round(time.time(), 2), **more}
        try:
            self.path.parent.mkdir(exist_ok=True)
            self._size = _append(self.path, written(line))
        except (OSError, TypeError, ValueError):
            return False
        return True

    def read(self, card: str) -> Kept:
        """Return what is kept about the card ``card``; lines of other cards are left out, damaged ones counted."""
        try:
            content = self.path.read_bytes()
        except OSError:
            self._size = 0
            return Kept()
        self._size = len(content)
        found = [(read_line(raw), raw) for raw in content.split(b"\n") if raw.strip()]
        lines = [line for line, _ in found if line is not None and line["card"] == card]
        return Kept(lines, sum(line is None for line, _ in found))


def _size(path: Path) -> int:
    try:
        return path.stat().st_size
    except OSError:
        return 0


def _append(path: Path, text: bytes) -> int:
    """Write ``text`` behind what is there in one piece, and return the file's size then; in bytes."""
    flags = os.O_RDWR | os.O_CREAT | os.O_APPEND | getattr(os, "O_BINARY", 0)
    opened = os.open(path, flags, 0o644)
    try:
        size = os.fstat(opened).st_size
        if size:
            os.lseek(opened, size - 1, os.SEEK_SET)
            text = text if os.read(opened, 1) == b"\n" else b"\n" + text  # the last line was cut short
        os.write(opened, text)
        with suppress(OSError):
            os.fsync(opened)
        return size + len(text)
    finally:
        os.close(opened)


def _check_of(line: Mapping[str, object]) -> str:
    return f"{zlib.crc32(json.dumps(line, sort_keys=True).encode('ascii')):08x}"


def _plain(value: object) -> object:
    """Return a number of another library as Python's own."""
    if hasattr(value, "__float__"):
        return float(value)
    raise TypeError(f"{type(value).__name__} cannot be kept")


def written(line: Mapping[str, object]) -> bytes:
    """Return ``line`` as it stands in a log.

    Raises
    ------
    TypeError
        If something in it is no plain data.
    """
    plain = json.loads(json.dumps(line, default=_plain))
    return json.dumps({**plain, _CHECK: _check_of(plain)}).encode("ascii") + b"\n"


def read_line(raw: bytes) -> Line | None:
    """Return the line ``raw`` of a log, or None if it is damaged."""
    try:
        line = json.loads(raw)
    except (ValueError, RecursionError):
        return None
    if not isinstance(line, dict) or line.pop(_CHECK, None) != _check_of(line):
        return None
    whole = line.get("form") == FORM and all(isinstance(line.get(key), str) for key in ("kind", "card"))
    return line if whole else None


_LOGS: dict[Path, WorkLog] = {}


def work_log(lesson: str) -> WorkLog | None:
    """Return the log of ``lesson``; None where nothing is kept: outside the lessons, or where a page is only run."""
    folder = root()
    if folder is None or os.environ.get(MODE, "live") != "live":
        return None
    path = folder / WORK / f"{lesson}.jsonl"
    return _LOGS.setdefault(path, WorkLog(path))
