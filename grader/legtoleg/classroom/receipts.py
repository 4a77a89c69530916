"""Receipts: a hand-in is on the disk, with its time and SHA-256, before anybody is told that it came."""

from __future__ import annotations

import json
import os
import tempfile
from dataclasses import asdict
from datetime import UTC, datetime
from pathlib import Path

from dryerbench.notebook.class_link import Receipt
from legtoleg.classroom.class_folder import ClassFolder
from legtoleg.collecting.keeping import Keeper
from legtoleg.intake.submissions import digest

FILE = "receipts.jsonl"
COMING = ".coming-"
"""How a page's file is called while it is written; no name that collecting sweeps away in the middle of it."""


def durable(path: Path, content: bytes) -> None:
    """Write ``content`` so that it is there after the power fails: file first, then its name.

    Raises
    ------
    OSError
        If there is no room for it; nothing is left of it then.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, part = tempfile.mkstemp(dir=path.parent, prefix=COMING)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        Path(part).chmod(0o644)
        Path(part).replace(path)
    except BaseException:
        Path(part).unlink(missing_ok=True)
        raise
    _sync(path.parent)


def _sync(folder: Path) -> None:
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _whole_lines(path: Path) -> list[bytes]:
    """Return the lines of receipts that are written to their end; of any other nobody was told."""
    lines = path.read_bytes().splitlines(keepends=True) if path.is_file() else []
    return lines if not lines or lines[-1].endswith(b"\n") else lines[:-1]


def receipts_so_far(folder: ClassFolder) -> list[Receipt]:
    """Return what was handed in so far. It only reads: the class may be writing at this moment."""
    return [Receipt(**json.loads(line)) for line in _whole_lines(folder.root / FILE)]


def kept_at(folder: ClassFolder, one: Receipt) -> Path:
    """Return where the content of a receipt is kept, byte by byte."""
    return Keeper(folder.cohort.folder).folder / one.apprentice / f"{one.lesson}-{one.sha256[:16]}.ipynb"


class Receipts:
    """All receipts of a class, in one file that only grows.

    They belong to the class service: on opening, what a kill left half written is removed. Another process of the
    class would remove what the service is just writing, so it reads with ``receipts_so_far``.
    """

    def __init__(self, folder: ClassFolder) -> None:
        self._folder = folder
        self._path = folder.root / FILE
        self._keeper = Keeper(folder.cohort.folder)
        for left in self._keeper.folder.glob(f"*/{COMING}*"):  # half written, and nobody was told of it
            left.unlink(missing_ok=True)
        if self._path.is_file() and (size := sum(map(len, _whole_lines(self._path)))) < self._path.stat().st_size:
            os.truncate(self._path, size)
        self.all: list[Receipt] = receipts_so_far(folder)

    def of(self, apprentice: str, lesson: str = "") -> list[Receipt]:
        """Return the receipts of one apprentice, of one lesson or of all."""
        return [one for one in self.all if one.apprentice == apprentice and lesson in ("", one.lesson)]

    def kept(self, one: Receipt) -> Path:
        """Return where the content of a receipt is kept, byte by byte."""
        return kept_at(self._folder, one)

    def keep(self, apprentice: str, lesson: str, content: bytes) -> Receipt:
        """Keep a hand-in and return its receipt; the same page twice in a row is one hand-in.

        Raises
        ------
        OSError
            If it cannot be kept: then there is no receipt.
        """
        mark, before = digest(content), self.of(apprentice, lesson)
        if before and before[-1].sha256 == mark:
            return before[-1]
        path = self._keeper.place(apprentice, lesson, content)
        if path.is_file() and path.read_bytes() == content:
            os.utime(path)
        else:
            durable(path, content)
        at = datetime.now(UTC).isoformat(timespec="seconds")
        one = Receipt(apprentice, lesson, len(before) + 1, mark, len(content), at)
        self._append((json.dumps(asdict(one)) + "\n").encode("ascii"))
        self.all.append(one)
        return one

    def _append(self, line: bytes) -> None:
        with self._path.open("ab") as file:
            start = file.tell()
            try:
                file.write(line)
                file.flush()
                os.fsync(file.fileno())
            except OSError:
                os.ftruncate(file.fileno(), start)
                raise
