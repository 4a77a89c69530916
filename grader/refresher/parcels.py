"""Parcels of a test: the notebook with all that a person without Python needs to open it, as one zip."""

from __future__ import annotations

import io
import json
import time
import zipfile
from collections.abc import Iterator
from pathlib import Path

import nbformat
from nbformat.notebooknode import NotebookNode

from dryerbench.kits import MARK
from grader.kit import START_FILES, TOP, kit_files, needs
from grader.lab import SETTINGS
from grader.ledger import write_whole
from grader.refresher.notebooks import file_name
from grader.rooms import START, TEMPLATES


def _course() -> Iterator[tuple[Path, str]]:
    """Yield the files of the course that a test needs, by their names in a kit: all but the lessons' own notebooks."""
    for path, name in kit_files():
        inside = name.removeprefix(f"{TOP}/")
        if path.suffix != ".ipynb":
            yield path, inside


def _start(name: str, who: str) -> str:
    text = (TEMPLATES / "kit" / name).read_text(encoding="utf-8")
    text = text.replace(f"/lab/tree/{START}/{START}.ipynb", f"/lab/tree/{file_name(who)}")
    return text.replace("\n", "\r\n") if name.endswith(".bat") else text


def _texts(issue: str, who: str, page: NotebookNode) -> Iterator[tuple[str, str, int]]:
    yield MARK, json.dumps({"apprentice": issue}, indent=2) + "\n", 0o644
    yield "needs.txt", "\n".join(needs()) + "\n", 0o644
    yield f"lessons/{file_name(who)}", str(nbformat.writes(page)) + "\n", 0o644
    for name, values in SETTINGS.items():
        settings = json.dumps(values, indent=2) + "\n"
        yield f"lab-settings/@jupyterlab/{name}.jupyterlab-settings", settings, 0o644
    for name, mode in START_FILES.items():
        yield name, _start(name, who), mode


def pack(issue: str, who: str, page: NotebookNode, path: Path) -> None:
    """Write the test's parcel to ``path`` in one step; it unpacks to a folder of its own, beside a kit's."""
    top = f"{TOP}-refresher-{issue}"
    content = io.BytesIO()
    with zipfile.ZipFile(content, "w", zipfile.ZIP_DEFLATED) as parcel:
        for name, text, mode in _texts(issue, who, page):
            about = zipfile.ZipInfo(f"{top}/{name}", time.localtime()[:6])
            about.external_attr = mode << 16
            about.compress_type = zipfile.ZIP_DEFLATED
            parcel.writestr(about, text)
        for source, name in _course():
            parcel.write(source, f"{top}/{name}")
    write_whole(path, content.getvalue())
