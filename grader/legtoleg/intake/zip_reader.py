"""Zips, read without trusting anything in them: one reader for what comes back, for refreshers and for backups."""

from __future__ import annotations

import io
import lzma
import stat
import struct
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path, PurePosixPath
from types import TracebackType
from typing import BinaryIO, Self

from dryerbench.core.errors import LegToLegError

NOT_WHOLE = "it is not a whole zip: ask for it again"
_ENTRY = b"PK\x01\x02"
_PIECE = 1 << 20
_LOCKED = 0x1 | 0x40
_DAMAGE = (
    zipfile.BadZipFile,
    zlib.error,
    lzma.LZMAError,
    struct.error,
    EOFError,
    RuntimeError,
    ValueError,
    LookupError,
    OverflowError,
    MemoryError,
    OSError,
)
"""What zipfile and its decompressors stumble over in a damaged zip (NotImplementedError is a RuntimeError)."""


class ZipReadError(LegToLegError, ValueError):
    """A zip, or an entry of one, that is not read; the text says why, in a few words."""


class ZipTooLargeError(ZipReadError):
    """A zip that goes beyond its limits."""


@dataclass(frozen=True)
class Limits:
    """What is read at most, over a zip and all zips in it: entries, bytes unpacked, and how deep zips may lie."""

    entries: int
    size: int
    depth: int = 1


@dataclass
class Spent:
    """What of the limits is used up, over all levels."""

    entries: int = 0
    size: int = 0


@dataclass(frozen=True)
class ZipEntry:
    """One entry: its name for a person, its path, when it was saved (UTC), and why it must not be read, if so."""

    name: str
    path: PurePosixPath
    changed: datetime | None
    is_folder: bool
    refused: str
    size: int
    """Bytes that it says it has; never believed when it is read."""
    info: zipfile.ZipInfo = field(repr=False)


def _refusal(info: zipfile.ZipInfo, path: PurePosixPath) -> str:
    if not path.parts or path.is_absolute() or ".." in path.parts or ":" in path.parts[0]:
        return "its path leads out of the zip"
    if stat.S_IFMT(info.external_attr >> 16) not in (0, stat.S_IFREG, stat.S_IFDIR):
        return "it is a link or a device"
    return "it is locked with a password" if info.flag_bits & _LOCKED else ""


def _saved(info: zipfile.ZipInfo) -> datetime | None:
    try:
        return datetime(*info.date_time).astimezone(UTC)
    except (ValueError, OverflowError, OSError):
        return None


def _entry(info: zipfile.ZipInfo) -> ZipEntry:
    path = PurePosixPath(info.filename.replace("\\", "/"))
    name = "".join(letter if letter.isprintable() else "\ufffd" for letter in info.filename[:200])
    return ZipEntry(name, path, _saved(info), info.is_dir(), _refusal(info, path), info.file_size, info)


@contextmanager
def _told(words: str) -> Iterator[None]:
    try:
        yield
    except ZipReadError:
        raise
    except _DAMAGE:
        raise ZipReadError(words) from None


def _counted(file: BinaryIO) -> int:
    """Return how many entries ``file`` can have at most, without making a list of them."""
    count, tail = 0, b""
    file.seek(0)
    while piece := file.read(_PIECE):
        count += (tail + piece).count(_ENTRY)
        tail = piece[-len(_ENTRY) + 1 :]
    file.seek(0)
    return count


class ZipReader:
    """A zip that is open to be read within ``limits``; zips in it are opened by ``inside`` and share them.

    Raises
    ------
    ZipReadError
        If it is no whole zip, or has more entries than the limits leave.
    """

    def __init__(self, file: BinaryIO, limits: Limits, depth: int = 1, spent: Spent | None = None) -> None:
        self.limits, self._depth, self._spent = limits, depth, spent or Spent()
        with _told(NOT_WHOLE):
            count = _counted(file)
            self._spent.entries += count
            if self._spent.entries > limits.entries:
                raise ZipTooLargeError(f"it has {count} entries, more than any hand-in")
            self._archive = zipfile.ZipFile(file)
            self.entries = tuple(_entry(info) for info in self._archive.infolist())

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self._archive.close()

    def read(self, entry: ZipEntry, most: int | None = None) -> bytes:
        """Return what is in ``entry``, ``most`` bytes of it allowed; what its header says of its size is not believed.

        Raises
        ------
        ZipReadError
            If it must not be read, is damaged, or is larger than what is allowed or left of the limits.
        """
        if entry.refused:
            raise ZipReadError(entry.refused)
        left = self.limits.size - self._spent.size
        allowed = left if most is None else min(most, left)
        with _told("it is damaged"), self._archive.open(entry.info) as file:
            content = file.read(allowed + 1)
        self._spent.size += len(content)
        if len(content) > allowed:
            raise ZipTooLargeError("it unpacks to more than any lesson has")
        return content

    def inside(self, entry: ZipEntry) -> ZipReader:
        """Return the zip that lies in this one as ``entry``.

        Raises
        ------
        ZipReadError
            If it lies too deep, cannot be read or is no whole zip.
        """
        if self._depth >= self.limits.depth:
            raise ZipReadError("it is a zip in a zip in a zip: unpack it first")
        return ZipReader(io.BytesIO(self.read(entry)), self.limits, self._depth + 1, self._spent)


@contextmanager
def open_zip(path: Path, limits: Limits) -> Iterator[ZipReader]:
    """Open the zip file ``path``.

    Raises
    ------
    ZipReadError
        If it is not a plain file, is larger than the limits let it unpack to, or is no whole zip.
    OSError
        If it cannot be opened.
    """
    about = path.stat()
    if not stat.S_ISREG(about.st_mode):
        raise ZipReadError("it is not a plain file")
    if about.st_size > limits.size:
        raise ZipTooLargeError(f"it has more than {limits.size // 10**6} MB")
    with path.open("rb") as file, ZipReader(file, limits) as reader:
        yield reader
