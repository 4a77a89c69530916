"""Parcels: what an instructor drops in (zips, folders, single files), opened without trusting anything in it."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path, PurePosixPath

from dryerbench.core.identity import MARK
from legtoleg.intake.notebook_repair import LARGEST_FILE
from legtoleg.intake.submissions import HandInError, plain_file
from legtoleg.intake.zip_reader import Limits, ZipReader, ZipReadError, open_zip

LIMITS = Limits(entries=20_000, size=500_000_000, depth=2)
"""Of one zip and the zips in it; a kit has some hundred entries, and a class's kits may come as zips in one."""
LARGEST_MARK = 10_000
"""Bytes of a kit's mark."""
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
    except (HandInError, ZipReadError, OSError) as error:
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
    if path.is_symlink():
        raise HandInError("it is a link to somewhere else; give the file itself")
    with open_zip(path, LIMITS) as archive:
        yield from _zip(archive, name)


def _zip(archive: ZipReader, name: str) -> Iterator[ReceivedFile]:
    marks = dict(_marks(archive))
    for entry in archive.entries:
        suffix = entry.path.suffix.lower()
        if entry.is_folder or suffix not in (".ipynb", ".zip", *_MISTAKEN) or _is_copy(entry.path):
            continue
        told = f"{name}: {entry.name}"
        if suffix in _MISTAKEN:
            yield ReceivedFile(told, refused=_NEITHER)
            continue
        try:
            if suffix == ".ipynb":
                content = archive.read(entry, LARGEST_FILE)
                yield ReceivedFile(told, content, entry.changed, _mark_above(entry.path, marks))
            else:
                with archive.inside(entry) as inner:
                    yield from _zip(inner, told)
        except ZipReadError as error:
            yield ReceivedFile(told, refused=str(error))


def _marks(archive: ZipReader) -> Iterator[tuple[PurePosixPath, str]]:
    for entry in archive.entries:
        if entry.path.name == MARK and entry.size < LARGEST_MARK:
            with suppress(ZipReadError):
                yield entry.path.parent, kit_mark(archive.read(entry, LARGEST_MARK))
