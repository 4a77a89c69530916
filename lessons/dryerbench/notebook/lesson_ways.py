"""Ways from the page that is open: to a lesson's page, and to what the instructor gave back of it."""

from __future__ import annotations

import os
from html import escape
from pathlib import Path

from dryerbench.core.identity import find_try
from dryerbench.notebook.progress import root


def way_to(lesson: str) -> str:
    """Return the way to the page of ``lesson`` from here; empty if it is not there."""
    place = root()
    pages = [place / inside / lesson / f"{lesson}.ipynb" for inside in (".", "lessons")] if place is not None else []
    there = next((page for page in pages if page.is_file()), None)
    return os.path.relpath(there, Path.cwd()).replace(os.sep, "/") if there else ""


def came_back(lesson: str) -> tuple[str, str]:
    """Return what the instructor gave back of ``lesson``, in words, and the way to the feedback page from here.

    In a class it comes to the folder ``feedback`` by itself; with a kit it is there if somebody put it there.
    """
    place = root()
    page = place / "feedback" / lesson / f"{lesson}.html" if place is not None else None
    there = page is not None and page.is_file()
    card = find_try(lesson)
    words = [*(["feedback"] if there else []), *([f"card {card} is dealt"] if card > 1 else [])]
    return "; ".join(words), os.path.relpath(page, Path.cwd()).replace(os.sep, "/") if page and there else ""


def linked(words: str, way: str, more: str = " target='_blank'") -> str:
    """Return ``words`` as a link to ``way`` in HTML; as they are where there is no way."""
    return f"<a href='{escape(way)}'{more}>{escape(words)}</a>" if way else escape(words)
