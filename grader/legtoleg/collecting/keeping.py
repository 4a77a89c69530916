"""Keeping: everything that came lies under ``received/`` as it came, byte by byte, under a name made of its content."""

from __future__ import annotations

import hashlib
import os
import shutil
import stat
import tempfile
from pathlib import Path

from legtoleg.cohort.cohort_folder import RECEIVED, UNCLEAR
from legtoleg.core.files import write_whole
from legtoleg.core.outside_words import file_words
from legtoleg.intake.submissions import digest

_PART = ".part-*"


def sweep(folder: Path) -> None:
    """Remove what a kill left half written in a cohort's ``folder``; whole files are never touched."""
    for place in (RECEIVED, "submitted"):
        for path in (folder / place).rglob(_PART):
            if path.is_file() and not path.is_symlink():
                path.unlink(missing_ok=True)
    for path in folder.glob(_PART):
        path.unlink(missing_ok=True)


class Keeper:
    """Keeps files for one cohort."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder / RECEIVED
        self._kept: dict[Path, tuple[Path, str]] = {}

    def place(self, who: str, lesson: str, content: bytes) -> Path:
        """Return where a notebook with ``content`` is kept."""
        return self.folder / who / f"{lesson or 'notebook'}-{digest(content)[:16]}.ipynb"

    def keep(self, who: str, lesson: str, content: bytes) -> Path:
        """Keep a notebook of ``who`` and return where."""
        path = self.place(who, lesson, content)
        if not path.is_file():
            write_whole(path, content)
        return path

    def keep_file(self, source: Path | None) -> tuple[Path | None, str]:
        """Keep a file that is no notebook; return where, and its digest. A link, a pipe or a device is not kept.

        Raises
        ------
        OSError
            If it cannot be read, or there is no room for it.
        """
        if source is None or not stat.S_ISREG(source.lstat().st_mode):
            return None, ""
        if source not in self._kept:
            self._kept[source] = self._copied(source)
        return self._kept[source]

    def _copied(self, source: Path) -> tuple[Path, str]:
        with source.open("rb") as file:
            known = hashlib.file_digest(file, "sha256").hexdigest()
        folder = self.folder / UNCLEAR
        target = folder / f"{known[:16]}-{file_words(source.name)}"
        if self.folder in source.resolve().parents:
            return source, known
        if not target.is_file():
            folder.mkdir(parents=True, exist_ok=True)
            handle, part = tempfile.mkstemp(dir=folder, prefix=".part-")
            os.close(handle)
            try:
                shutil.copyfile(source, part)
                Path(part).chmod(0o644)
                Path(part).replace(target)
            except BaseException:
                Path(part).unlink(missing_ok=True)
                raise
        return target, known
