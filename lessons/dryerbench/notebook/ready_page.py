"""The page to hand in: as it was saved, with every answer of this page put in as it now stands.

A page that was loaded anew while its kernel ran on may not show, and so not save, what was answered since. The kernel
knows it: what is handed in never depends on what the page shows.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

from dryerbench.core.errors import LegToLegError
from dryerbench.core.identity import READY
from dryerbench.notebook.answer_record import MIME
from dryerbench.notebook.progress import root


def completed(content: bytes, bundles: Mapping[str, Mapping[str, object]]) -> bytes:
    """Return the saved notebook ``content`` with the outputs ``bundles``, by question, in its hand-in cells.

    A notebook that cannot be read, or that says all of it already, is returned as it is.
    """
    try:
        notebook = json.loads(content)
        cells = [cell for cell in notebook["cells"] if cell["cell_type"] == "code"]
        changed = [_put(cell, bundles[name]) for cell in cells if (name := _hands_in(cell)) in bundles]
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return content
    return (json.dumps(notebook, ensure_ascii=False, indent=1) + "\n").encode("utf-8") if any(changed) else content


def _hands_in(cell: Mapping[str, object]) -> str:
    name, metadata = str(cell.get("id", "")), cell.get("metadata")
    marks = metadata.get("nbgrader") if isinstance(metadata, dict) else None
    marked = marks.get("grade_id") if isinstance(marks, dict) and marks.get("grade") is True else ""
    return name.removesuffix("-hand-in") if name.endswith("-hand-in") else str(marked or "")


def _put(cell: dict[str, object], bundle: Mapping[str, object]) -> bool:
    """Put ``bundle`` into the outputs of ``cell`` in place of older ones with a record; tell whether that is news."""
    found = cell.get("outputs")
    outputs = found if isinstance(found, list) else []
    older = [one for one in outputs if isinstance(one, dict) and MIME in (one.get("data") or {})]
    if len(older) == 1 and older[0]["data"][MIME] == json.loads(json.dumps(bundle[MIME])):
        return False
    new = {"output_type": "display_data", "data": dict(bundle), "metadata": {}}
    cell["outputs"] = [new, *(one for one in outputs if one not in older and one.get("output_type") != "error")]
    return True


def write_ready(name: str, content: bytes) -> Path:
    """Write ``content`` as the file ``name`` to be handed in, whole or not at all, and return its path.

    Raises
    ------
    LegToLegError
        If there is no place for it, or it cannot be written.
    """
    folder = (root() or Path.cwd()) / READY
    path, part = folder / name, folder / f"{name}.part"
    try:
        folder.mkdir(exist_ok=True)
        part.write_bytes(content)
        part.replace(path)
    except OSError as error:
        with suppress(OSError):
            part.unlink()
        raise LegToLegError(
            f"The file to hand in cannot be written to {folder}: {error.strerror}. "
            "Save this page (Ctrl + S) and give its own file to your instructor."
        ) from None
    return path
