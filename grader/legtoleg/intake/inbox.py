"""Parcels: what an instructor drops in (zips, folders, single files), opened without trusting anything in it."""

from __future__ import annotations

import io
import json
import os
import stat
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path, PurePosixPath

from dryerbench.core.identity import MARK
from legtoleg.intake.notebook_repair import LARGEST_FILE
from legtoleg.intake.submissions import HandInError, plain_file

MOST_ENTRIES = 20_000
"""Entries of one zip; a kit has some hundred."""
LARGEST_ZIP = 500_000_000
"""Bytes that all notebooks of one zip may unpack to, and that a zip itself may have."""
_DEEPEST = 2
_COPIES = (".ipynb_checkpoints", "__MACOSX")
_MISTAKEN = (".7z", ".doc", ".docx", ".gz", ".htm", ".html", ".odt", ".pdf", ".rar", ".tar", ".tgz")
"""What people send in place of a notebook or a zip; other files come with every kit and are passed over."""
_NEITHER = "it is neither a notebook nor a zip: ask for the .ipynb file"


@dataclass(frozen=True)
class ReceivedFile:
    """One notebook file out of a parcel, or why it was refused."""

    name: str
    """Where it was, for a person: the parcel and the path inside."""
    content: bytes = b""
    changed: datetime | None = None
    """When it was last saved, in UTC, as the parcel says."""
    kit_id: str = ""
    """The id in the kit's mark that lies above it."""
    refused: str = ""


@dataclass
class _Zip:
    name: str
    depth: int
    unpacked: int = 0
    marks: dict[PurePosixPath, str] = field(default_factory=dict)


def _is_copy(path: PurePosixPath) -> bool:
    return any(part in _COPIES or part.startswith("._") for part in path.parts)


def kit_mark(content: bytes) -> str:
    """Return the id in a kit's mark; empty if it is damaged."""
    try:
        who = json.loads(content.decode("utf-8-sig"))["apprentice"]
    except (ValueError, KeyError, TypeError, RecursionError):
        return ""
    return who[:200] if isinstance(who, str) else ""


def _mark_above(path: PurePosixPath, marks: dict[PurePosixPath, str]) -> str:
    return next((marks[folder] for folder in path.parents if folder in marks), "")


def open_received(path: Path) -> Iterator[ReceivedFile]:
    """Yield the notebooks in ``path`` (a zip, a folder, a file); what must not be opened is yielded as refused."""
    if path.is_symlink():
        yield ReceivedFile(str(path), refused="it is a link to somewhere else; give the file itself")
    elif path.is_dir():
        yield from _folder(path)
    elif not path.exists():
        yield ReceivedFile(str(path), refused="there is no such file")
    else:
        yield from _file(path, str(path), "")


def _file(path: Path, name: str, kit_id: str) -> Iterator[ReceivedFile]:
    suffix = path.suffix.lower()
    try:
        if suffix == ".zip":
            yield from _zip_file(path, name)
        elif suffix in (".ipynb", ".json"):
            changed = datetime.fromtimestamp(path.lstat().st_mtime, UTC)
            yield ReceivedFile(name, plain_file(path), changed, kit_id)
        else:
            yield ReceivedFile(name, refused=_NEITHER)
    except (HandInError, OSError) as error:
        yield ReceivedFile(name, refused=str(error))


def _folder(top: Path) -> Iterator[ReceivedFile]:
    marks: dict[PurePosixPath, str] = {}
    for folder, below, files in os.walk(top, followlinks=False):
        here = Path(folder)
        below[:] = sorted(name for name in below if name not in _COPIES and not name.startswith("."))
        inside = PurePosixPath(here.relative_to(top).as_posix())
        for name in below:
            if (here / name).is_symlink():
                yield ReceivedFile(str(here / name), refused="it is a link to somewhere else and was not followed")
        if MARK in files:
            try:
                marks[inside] = kit_mark(plain_file(here / MARK))
            except HandInError:
                marks[inside] = ""
        for name in sorted(files):
            path = here / name
            if path.suffix.lower() in (".ipynb", ".zip", *_MISTAKEN):
                yield from _file(path, str(path), _mark_above(inside / name, marks))


def _zip_file(path: Path, name: str) -> Iterator[ReceivedFile]:
    about = path.lstat()
    if not stat.S_ISREG(about.st_mode):
        yield ReceivedFile(name, refused="it is no plain file")
    elif about.st_size > LARGEST_ZIP:
        yield ReceivedFile(name, refused=f"it has more than {LARGEST_ZIP // 10**6} MB")
    else:
        with path.open("rb") as file:
            yield from _zip(file, _Zip(name, 1))


def _zip(file: io.BufferedIOBase | io.BytesIO | io.BufferedReader, about: _Zip) -> Iterator[ReceivedFile]:
    try:
        with zipfile.ZipFile(file) as archive:
            entries = archive.infolist()
            if len(entries) > MOST_ENTRIES:
                yield ReceivedFile(about.name, refused=f"it has {len(entries)} entries, more than any hand-in")
                return
            _read_marks(archive, entries, about)
            for entry in entries:
                yield from _entry(archive, entry, about)
    except (zipfile.BadZipFile, NotImplementedError, EOFError, ValueError, OSError):
        yield ReceivedFile(about.name, refused="it is no whole zip: ask for it again")


def _read_marks(archive: zipfile.ZipFile, entries: list[zipfile.ZipInfo], about: _Zip) -> None:
    for entry in entries:
        path = PurePosixPath(entry.filename.replace("\\", "/"))
        if path.name == MARK and entry.file_size < 10_000:
            content = _unpacked(archive, entry, about)
            if isinstance(content, bytes):
                about.marks[path.parent] = kit_mark(content)


def _refusal(entry: zipfile.ZipInfo, path: PurePosixPath) -> str:
    if path.is_absolute() or ".." in path.parts or ":" in path.parts[0]:
        return "its path leads out of the zip"
    kind = stat.S_IFMT(entry.external_attr >> 16)
    if kind not in (0, stat.S_IFREG):
        return "it is a link or a device"
    if entry.flag_bits & 0x1:
        return "it is locked with a password"
    return ""


def _unpacked(archive: zipfile.ZipFile, entry: zipfile.ZipInfo, about: _Zip) -> bytes | str:
    """Return the content of ``entry``, or why it is not unpacked. What its header says of its size is not believed."""
    most = LARGEST_FILE if not entry.filename.lower().endswith(".zip") else LARGEST_ZIP
    most = min(most, LARGEST_ZIP - about.unpacked)
    try:
        with archive.open(entry) as file:
            content = file.read(most + 1)
    except (zipfile.BadZipFile, RuntimeError, NotImplementedError, EOFError, OSError, ValueError):
        return "it is damaged"
    about.unpacked += len(content)
    return content if len(content) <= most else "it unpacks to more than any lesson has"


def _entry(archive: zipfile.ZipFile, entry: zipfile.ZipInfo, about: _Zip) -> Iterator[ReceivedFile]:
    path = PurePosixPath(entry.filename.replace("\\", "/"))
    suffix = path.suffix.lower()
    if entry.is_dir() or suffix not in (".ipynb", ".zip", *_MISTAKEN) or _is_copy(path):
        return
    name = f"{about.name}: {entry.filename[:200]}"
    if suffix in _MISTAKEN:
        yield ReceivedFile(name, refused=_NEITHER)
        return
    content = _refusal(entry, path) or _unpacked(archive, entry, about)
    if isinstance(content, str):
        yield ReceivedFile(name, refused=content)
    elif suffix == ".ipynb":
        yield ReceivedFile(name, content, _saved(entry), _mark_above(path, about.marks))
    elif about.depth >= _DEEPEST:
        yield ReceivedFile(name, refused="it is a zip in a zip in a zip: unpack it first")
    else:
        yield from _zip(io.BytesIO(content), _Zip(name, about.depth + 1, about.unpacked))


def _saved(entry: zipfile.ZipInfo) -> datetime | None:
    try:
        return datetime(*entry.date_time).astimezone(UTC)
    except (ValueError, OverflowError, OSError):
        return None
