"""Where the rooms of the course are on this computer."""

from __future__ import annotations

from pathlib import Path

from dryerbench.core.errors import LegToLegError

ROOT = Path(__file__).resolve().parents[3]

TEMPLATES = Path(__file__).resolve().parent.parent / "templates"
"""The pages' templates."""


class FolderMissingError(LegToLegError, FileNotFoundError):
    """A folder of the course that is not where it should be."""


def course_folder(name: str) -> Path:
    """Return the folder ``name`` (``lessons``, ``solutions``, ``datasets``) of this checkout.

    Raises
    ------
    RoomMissingError
        If the package was not installed from a checkout, so that the folder is not there.
    """
    folder = ROOT / name
    if not folder.is_dir():
        raise FolderMissingError(
            f"The folder {name}/ is missing beside grader/. Clone the course and install it with "
            "“pip install -e .” inside the clone."
        )
    return folder


START = "00_start"
"""The page that opens the course; it asks nothing."""


def lesson_names() -> list[str]:
    """Return the names of all lessons that have a source in ``solutions/``, in order."""
    return sorted(path.stem for path in course_folder("solutions").glob("[0-9][0-9]_*.md") if path.stem != START)
