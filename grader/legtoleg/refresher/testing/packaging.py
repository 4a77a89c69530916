"""Parcels of a test: the notebook with all that a person without Python needs to open it, as one zip."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator
from pathlib import Path

import nbformat
from nbformat.notebooknode import NotebookNode

from legtoleg.cohort.kit import TOP, kit_files, put, start_texts
from legtoleg.core.files import write_whole
from legtoleg.refresher.testing.test_notebook import file_name


def _course() -> Iterator[tuple[Path, str]]:
    """Yield the files of the course that a test needs, by their names in a kit: all but the lessons' own notebooks."""
    for path, name in kit_files():
        if path.suffix != ".ipynb":
            yield path, name


def pack(issue: str, who: str, page: NotebookNode, path: Path) -> None:
    """Write the test's parcel to ``path`` in one step; it unpacks to a folder of its own, beside a kit's."""
    top = f"{TOP}-refresher-{issue}"
    content = io.BytesIO()
    with zipfile.ZipFile(content, "w", zipfile.ZIP_DEFLATED) as parcel:
        for name, text, mode in start_texts(issue, file_name(who)):
            put(parcel, f"{top}/{name}", text, mode)
        put(parcel, f"{top}/lessons/{file_name(who)}", str(nbformat.writes(page)) + "\n")
        for source, name in _course():
            parcel.write(source, f"{top}/{name}")
    write_whole(path, content.getvalue())
