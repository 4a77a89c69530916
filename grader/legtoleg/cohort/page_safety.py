"""Page safety: a marked notebook holds nothing of the apprentice's that a browser would run.

An instructor opens marked notebooks in nbgrader's formgrader, a page with every right over the grade book, which shows
HTML, SVG, scripts, widgets and raw cells as they are. So of what cells showed, only text and pictures of dots are left;
prose that is not the lesson's own is shown letter by letter; attachments and metadata that nobody asked for go.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from functools import cache

from nbformat.notebooknode import NotebookNode

from legtoleg.authoring.lesson_source import solved_notebook
from legtoleg.core.notebook_format import ISOLATED, KERNEL
from legtoleg.core.try_ledger import TRY
from legtoleg.marking.bench_trail_recovery import KEPT

_PICTURES = ("image/png", "image/jpeg")
_BASE64 = re.compile(r"[A-Za-z0-9+/=\s]*")
_TICKS = re.compile(r"`+")
_KEPT_OF_CELL = ("nbgrader", KEPT)
_KEPT_OF_NOTEBOOK = (TRY, ISOLATED)
_SHOWN = ("display_data", "execute_result")


@cache
def _prose(lesson: str) -> frozenset[str]:
    """Return the texts of the lesson's own cells that are not code."""
    return frozenset(cell.source for cell in solved_notebook(lesson).cells if cell.cell_type != "code")


def make_safe(notebook: NotebookNode, lesson: str) -> None:
    """Take from ``notebook``, a hand-in of ``lesson``, whatever a browser would run; marks are put in after that."""
    own = {name: notebook.metadata[name] for name in _KEPT_OF_NOTEBOOK if name in notebook.metadata}
    about = {"kernelspec": NotebookNode(KERNEL), "language_info": NotebookNode(name="python")}
    notebook.metadata = NotebookNode({**about, **own})
    for cell in notebook.cells:
        _clean(cell, _prose(lesson))


def _clean(cell: NotebookNode, prose: Collection[str]) -> None:
    cell.pop("attachments", None)
    for name in [name for name in cell.metadata if name not in _KEPT_OF_CELL]:
        del cell.metadata[name]
    if cell.cell_type == "code":
        cell.outputs = [kept for output in cell.get("outputs", []) if (kept := _output(output)) is not None]
    elif cell.source not in prose:
        cell.cell_type = "markdown"
        cell.source = _letter_by_letter(cell.source)


def _letter_by_letter(text: str) -> str:
    """Return Markdown that shows ``text`` as it is, within a fence that is longer than any in it."""
    fence = "`" * max(3, 1 + max(map(len, _TICKS.findall(text)), default=0))
    return f"{fence}\n{text}\n{fence}"


def _output(output: NotebookNode) -> NotebookNode | None:
    """Return an output with only what is safe to show; None if nothing of it is."""
    if output.output_type not in _SHOWN:
        return output
    data = output.get("data", {})
    if output.get("metadata"):
        output.metadata = NotebookNode()
    for kind in [kind for kind in data if not _is_safe(kind, data[kind])]:
        del data[kind]
    return output if data else None


def _is_safe(kind: str, value: object) -> bool:
    if kind in _PICTURES:
        return isinstance(value, str) and _BASE64.fullmatch(value) is not None
    return kind == "text/plain"
