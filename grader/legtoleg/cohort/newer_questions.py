"""Questions that are newer than a hand-in's kit: their answer cells are put in, blank, so that the rest is graded.

nbgrader puts a missing graded cell back below its answer, and stops if that answer is missing too.
"""

from __future__ import annotations

from functools import cache

from nbformat.notebooknode import NotebookNode
from nbformat.v4 import new_code_cell
from nbgrader.preprocessors.base import NbGraderPreprocessor

from dryerbench.registry import SHEETS
from legtoleg.authoring.lesson_source import solved_notebook
from legtoleg.core.notebook_format import Resources

__all__ = ["AddNewerQuestions", "newer_in"]

_NEWER = "legtoleg_newer"
"""The field in the metadata of an answer cell that the hand-in did not have."""


class AddNewerQuestions(NbGraderPreprocessor):  # type: ignore[misc]
    """Adds a blank answer for each question of a lesson of ours of which a notebook has neither answer nor hand-in."""

    def preprocess(self, nb: NotebookNode, resources: Resources) -> tuple[NotebookNode, Resources]:
        """Add what the lesson in ``resources`` asks and ``nb`` does not know; leave other assignments as they are."""
        lesson = resources["nbgrader"]["assignment"]
        if lesson in SHEETS:
            there = {_name(cell) for cell in nb.cells}
            for name, marks in _answers(lesson).items():
                if not there & {name, f"{name}_answer"}:
                    metadata = {"nbgrader": dict(marks), _NEWER: True}
                    nb.cells.append(new_code_cell(f'{name} = ""', id=f"{name}-answer", metadata=metadata))
        return nb, resources


def _name(cell: NotebookNode) -> str:
    return str(cell.metadata.get("nbgrader", {}).get("grade_id", ""))


@cache
def _answers(lesson: str) -> dict[str, NotebookNode]:
    """Return nbgrader's metadata of the answer cell of each question."""
    marked = {_name(cell): cell.metadata["nbgrader"] for cell in solved_notebook(lesson).cells if _name(cell)}
    return {question.name: marked[f"{question.name}_answer"] for question in SHEETS[lesson].questions}


def newer_in(nb: NotebookNode) -> list[str]:
    """Return the questions that were added to ``nb`` because its hand-in did not have them."""
    return [_name(cell).removesuffix("_answer") for cell in nb.cells if cell.metadata.get(_NEWER) is True]
