"""Where the course's folders are on this computer: in a checkout, or inside an installed wheel."""

from __future__ import annotations

import sys
from pathlib import Path

from dryerbench.core.errors import LegToLegError
from dryerbench.core.tables import datasets_folder

PACKAGE = Path(__file__).resolve().parent.parent
"""The marker's own package."""

ROOT = PACKAGE.parent.parent
"""The top of the checkout, where there is one."""

INSTALLED = PACKAGE / "course"
"""Where a wheel keeps lessons and sources."""

TEMPLATES = PACKAGE / "templates"
"""The pages' templates."""

_MARKERS_OWN = ("solutions", "tests", ".git")
"""What a checkout holds that no apprentice may read, beside the marker's package."""


class FolderMissingError(LegToLegError, FileNotFoundError):
    """A folder of the course that is not where it should be."""


def in_checkout() -> bool:
    """Tell whether this package stands in a checkout, in the folder ``grader/``."""
    return PACKAGE.parent.name == "grader"


def course_folder(name: str) -> Path:
    """Return the folder ``name`` (``lessons``, ``solutions``, ``datasets``) of this checkout, or of this installation.

    Raises
    ------
    FolderMissingError
        If it is in neither.
    TableError
        If it is ``datasets`` that is missing.
    """
    if in_checkout():
        folder, cure = ROOT / name, f"In the clone, “git checkout -- {name}” brings it back."
    elif name == "datasets":
        return datasets_folder()
    else:
        folder, cure = (
            INSTALLED / name,
            "Install the course again: “pip install --force-reinstall --no-deps” its wheel.",
        )
    if not folder.is_dir():
        raise FolderMissingError(f"The course's folder {name}/ is missing: {folder} is not there. {cure}")
    return folder


def checkout(need: str) -> Path:
    """Return the top of the checkout, for ``need``, which works in one only.

    Raises
    ------
    FolderMissingError
        If the course was installed from a wheel.
    """
    if not in_checkout():
        raise FolderMissingError(
            f"{need} needs a checkout of the course, and this is an installed copy: clone the course and install it "
            "with “pip install -e .” inside the clone."
        )
    return ROOT


def private_folders() -> list[Path]:
    """Return the folders that no apprentice's notebook may read: the marker, and a checkout's sources and tests."""
    marker = {PACKAGE, *(Path(place, PACKAGE.name).resolve() for place in sys.path if place)}
    own = {ROOT / name for name in _MARKERS_OWN} if in_checkout() else set()
    return sorted(folder for folder in marker | own if folder.is_dir())


START = "00_start"
"""The page that opens the course; it asks nothing."""


def lesson_names() -> list[str]:
    """Return the names of all lessons that have a source in ``solutions/``, in order."""
    return sorted(path.stem for path in course_folder("solutions").glob("[0-9][0-9]_*.md") if path.stem != START)
