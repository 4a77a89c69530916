"""Answered: which questions of a lesson a notebook answers, told from what was typed and what was done on the bench.

What was typed stands in an answer cell, or in the record that a box left.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from nbformat.notebooknode import NotebookNode

from dryerbench.notebook.answer_record import BOX, MIME
from dryerbench.registry import SHEETS


def _typed(source: str) -> str:
    """Return what a cell says without remarks, blanks and quotes, so that an answer of nothing looks as given out."""
    code = "\n".join(line for line in source.splitlines() if not line.lstrip().startswith("#"))
    return re.sub(r"[\s\"']+", "", code)


def _assigned(notebook: NotebookNode, names: Iterable[str]) -> dict[str, set[str]]:
    wanted = set(names)
    found: dict[str, set[str]] = {}
    for cell in notebook.cells:
        if cell.cell_type == "code":
            for name in wanted & set(re.findall(r"^(\w+)[ \t]*=(?!=)", cell.source, re.MULTILINE)):
                found.setdefault(name, set()).add(_typed(cell.source))
    return found


def _worked(notebook: NotebookNode) -> set[str]:
    """Return the questions with work on the bench, or with an answer in a box, in what the page shows."""
    records = [output.get("data", {}).get(MIME) for cell in notebook.cells for output in cell.get("outputs", [])]
    return {
        str(record.get("question"))
        for record in records
        if isinstance(record, dict)
        and (record.get("acts") or (record.get("by") == BOX and record.get("kind") != "blank"))
    }


def answered(notebook: NotebookNode, released: NotebookNode, lesson: str) -> frozenset[str]:
    """Return the questions of ``lesson`` that ``notebook`` answers otherwise than the ``released`` one."""
    names = [question.name for question in SHEETS[lesson].questions]
    given = _assigned(released, names)
    typed = {name for name, said in _assigned(notebook, names).items() if said - given.get(name, set()) - {f"{name}="}}
    return frozenset(typed | (_worked(notebook) & set(names)))
