"""Parcels: what an instructor drops in (zips, folders, single files), opened without trusting anything in it.

Every file of a parcel is yielded, taken or refused, but for what a kit holds itself and what systems leave in folders.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path, PurePosixPath

from dryerbench.core.identity import MARK, TRIES, WORK
from legtoleg.core.outside_words import plain_words
from legtoleg.intake.notebook_repair import LARGEST_FILE
from legtoleg.intake.submissions import HandInError, plain_file
from legtoleg.intake.zip_reader import Limits, ZipEntry, ZipReader, ZipReadError, open_zip

LIMITS = Limits(entries=20_000, size=500_000_000, depth=2)
"""Of one zip and the zips in it; a kit has some hundred entries, and a class's kits may come as zips in one."""
LARGEST_MARK = 10_000
"""Bytes of a kit's mark."""
_COPIES = (".ipynb_checkpoints", "__MACOSX", "__pycache__")
_TOOLS = (".cache", ".config", ".git", ".ipython", ".jupyter", ".local", ".python", ".venv", ".vscode")
"""Folders that programs keep for themselves; no hand-in lies in them."""
_LITTER = (".ds_store", "desktop.ini", "thumbs.db", ".localized")
"""Files that systems leave in folders."""
_KIT_FOLDERS = ("lessons/dryerbench", "datasets", "lab-settings", WORK, f"lessons/{WORK}")
READ_ME_FILE = "READ ME FIRST.txt"
"""What says which file of a kit to open."""
_NOTES = ("needs.txt", "progress.json", "signed_off.json", TRIES)
_KIT_FILES = (
    MARK,
    READ_ME_FILE,
    *_NOTES,
    *(f"lessons/{name}" for name in _NOTES),
    "lessons/ANSWERS.md",
    "lessons/WORDS.md",
    "lessons/LICENSE.txt",
)
_NOTEBOOKS = (".ipynb", ".ipynb.txt", ".ipynb.json")
_NEITHER = "it is neither a notebook nor a zip: ask for the .ipynb file"


@dataclass(frozen=True)
class ReceivedFile:
    """One file out of a parcel, to be read as a notebook, or why it was refused."""

    name: str
    """Where it was, for a person: the parcel and the path inside."""
    content: bytes = b""
    changed: datetime | None = None
    """When it was last saved, in UTC, as the parcel says."""
    kit_id: str = ""
    """The id in the kit's mark that lies above it."""
    refused: str = ""
    path: str = ""
    """Its name in its parcel and the parcel's own name, without the folders that the parcel was found in."""
    source: Path | None = None
    """The file on this computer that it is, or that it lies in: what is kept as it came, where it was refused."""


@dataclass(frozen=True)
class _Place:
    """Where a file of a parcel is: its name for a person, its path for what it says, the file it lies in."""

    name: str
    path: str
    source: Path | None

    def refused(self, why: str) -> ReceivedFile:
        return ReceivedFile(self.name, refused=why, path=self.path, source=self.source)


def _is_litter(path: PurePosixPath) -> bool:
    copies = (*_COPIES, *_TOOLS)
    return any(part in copies or part.startswith("._") for part in path.parts) or path.name.lower() in _LITTER


def _is_notebook(name: str) -> bool:
    return name.lower().endswith(_NOTEBOOKS)


def _looks_like_notebook(content: bytes) -> bool:
    """Tell whether a file that has another ending is a notebook all the same, as mail and browsers rename them."""
    return content.lstrip(b"\xef\xbb\xbf \r\n\t").startswith(b"{") and b'"cells"' in content


def _is_kits_own(path: PurePosixPath, marks: Mapping[PurePosixPath, str]) -> bool:
    """Tell whether a file below a kit's mark came with the kit, or is a note that the kit makes: no hand-in."""
    for folder in path.parents:
        if folder in marks:
            inside = path.relative_to(folder).as_posix()
            own = inside in _KIT_FILES or inside.startswith("start")
            own_folder = any(inside.startswith(f"{name}/") for name in _KIT_FOLDERS)
            return own or (own_folder and not _is_notebook(inside))
    return path.name == MARK


def kit_mark(content: bytes) -> str:
    """Return the id in a kit's mark; empty if it is damaged."""
    try:
        who = json.loads(content.decode("utf-8-sig"))["apprentice"]
    except (ValueError, KeyError, TypeError, RecursionError):
        return ""
    return who[:200] if isinstance(who, str) else ""


def _mark_above(path: PurePosixPath, marks: Mapping[PurePosixPath, str]) -> str:
    return next((marks[folder] for folder in path.parents if folder in marks), "")


def open_received(path: Path) -> Iterator[ReceivedFile]:
    """Yield every file in ``path`` (a zip, a folder, a file); what must not be opened is yielded as refused.

    What a kit holds itself, and what systems and programs leave behind, is passed over.
    """
    place = _Place(plain_words(path), "/".join(path.parts[-2:]), path)
    if path.is_symlink():
        yield _Place(place.name, place.path, None).refused("it is a link to somewhere else; give the file itself")
    elif path.is_dir():
        yield from _folder(path)
    elif not os.path.lexists(path):
        yield _Place(place.name, place.path, None).refused(
            "there is no such file or folder; check the path, and collect it again"
        )
    else:
        yield from _file(path, place, "")


def _file(path: Path, place: _Place, kit_id: str) -> Iterator[ReceivedFile]:
    suffix = path.suffix.lower()
    try:
        if suffix == ".zip":
            yield from _zip_file(path, place)
            return
        content = plain_file(path)
        if _is_notebook(path.name) or _looks_like_notebook(content):
            changed = _saved(path)
            yield ReceivedFile(place.name, content, changed, kit_id, path=place.path, source=path)
        else:
            yield place.refused(_NEITHER)
    except (HandInError, ZipReadError, OSError) as error:
        yield place.refused(plain_words(error))


def _saved(path: Path) -> datetime | None:
    try:
        return datetime.fromtimestamp(path.lstat().st_mtime, UTC)
    except (ValueError, OverflowError, OSError):
        return None


def _folder(top: Path) -> Iterator[ReceivedFile]:
    marks: dict[PurePosixPath, str] = {}
    for folder, below, files in os.walk(top, followlinks=False):
        here = Path(folder)
        inside = PurePosixPath(here.relative_to(top).as_posix())
        below[:] = sorted(name for name in below if not _is_litter(inside / name))
        for name in below:
            if (here / name).is_symlink():
                place = _Place(plain_words(here / name), name, None)
                yield place.refused("it is a link to somewhere else and was not followed")
        if MARK in files:
            try:
                marks[inside] = kit_mark(plain_file(here / MARK))
            except HandInError:
                marks[inside] = ""
        for name in sorted(files):
            path, within = here / name, inside / name
            if not _is_litter(within) and not _is_kits_own(within, marks):
                place = _Place(plain_words(path), (top.name / within).as_posix(), path)
                yield from _file(path, place, _mark_above(within, marks))


def _zip_file(path: Path, place: _Place) -> Iterator[ReceivedFile]:
    if path.is_symlink():
        raise HandInError("it is a link to somewhere else; give the file itself")
    with open_zip(path, LIMITS) as archive:
        yield from _zip(archive, place)


def _zip(archive: ZipReader, place: _Place) -> Iterator[ReceivedFile]:
    marks = dict(_marks(archive))
    nothing = True
    for entry in archive.entries:
        if entry.is_folder or _is_litter(entry.path):
            continue
        nothing = False
        if _is_kits_own(entry.path, marks):
            continue
        inside = _Place(f"{place.name}: {plain_words(entry.name)}", f"{place.path}: {entry.path}", place.source)
        try:
            yield from _entry(archive, entry, inside, _mark_above(entry.path, marks))
        except ZipReadError as error:
            yield inside.refused(str(error))
    if nothing:
        yield place.refused("it is a zip with nothing in it: ask for it again")


def _entry(archive: ZipReader, entry: ZipEntry, place: _Place, kit_id: str) -> Iterator[ReceivedFile]:
    if entry.path.suffix.lower() == ".zip":
        with archive.inside(entry) as inner:
            yield from _zip(inner, place)
        return
    content = archive.read(entry, LARGEST_FILE)
    if _is_notebook(entry.path.name) or _looks_like_notebook(content):
        yield ReceivedFile(place.name, content, entry.changed, kit_id, path=place.path, source=place.source)
    else:
        yield place.refused(_NEITHER)


def _marks(archive: ZipReader) -> Iterator[tuple[PurePosixPath, str]]:
    for entry in archive.entries:
        if entry.path.name == MARK and entry.size < LARGEST_MARK:
            with suppress(ZipReadError):
                yield entry.path.parent, kit_mark(archive.read(entry, LARGEST_MARK))
