"""Kept work: what was done on the bench by click is in no cell, so its record is kept from the page as handed in.

When a notebook is run again to be marked, nobody clicks. The record that the hand-in left in the page is kept in the
cell's metadata before outputs are cleared, and counts where the second run has fewer acts than the page. Both are
data that a notebook could choose as it likes: the marker does the acts again on the machine of that apprentice.
"""

from __future__ import annotations

import copy

from nbformat.notebooknode import NotebookNode
from nbgrader.preprocessors import NbGraderPreprocessor

from dryerbench.course.questions import BenchQuestion, FaultQuestion
from dryerbench.registry import SHEETS
from legtoleg.core.notebook_format import Resources
from legtoleg.marking.answer_parsing import Found, found_in_cell

KEPT = "leg_to_leg_kept"
"""Where in a cell's metadata the outputs with the record stand."""


class KeepWork(NbGraderPreprocessor):  # type: ignore[misc]
    """Keeps the records of work on the bench before nbgrader clears the page's outputs."""

    def preprocess(self, nb: NotebookNode, resources: Resources) -> tuple[NotebookNode, Resources]:
        """Keep what the hand-in cells of bench questions of the lesson in ``resources`` hold."""
        lesson = resources["nbgrader"]["assignment"]
        asked = bench_questions(lesson)
        for cell in nb.cells:
            cell.metadata.pop(KEPT, None)
            name = handed_in_by(cell)
            if name in asked and found_in_cell(cell.get("outputs", []), name).acts:
                cell.metadata[KEPT] = copy.deepcopy(cell.outputs)
        return nb, resources


def bench_questions(lesson: str) -> frozenset[str]:
    """Return the questions of ``lesson`` that are answered by work on the bench; none for a lesson that is not ours."""
    asked = SHEETS[lesson].questions if lesson in SHEETS else ()
    return frozenset(question.name for question in asked if isinstance(question, BenchQuestion | FaultQuestion))


def handed_in_by(cell: NotebookNode) -> str:
    """Return the question that ``cell`` hands in, by its id or, where a program took the ids away, by its mark."""
    name = str(cell.get("id", ""))
    marks = cell.metadata.get("nbgrader")
    marked = marks.get("grade_id") if isinstance(marks, dict) and marks.get("grade") is True else ""
    return name.removesuffix("-hand-in") if name.endswith("-hand-in") else str(marked or "")


def with_kept_work(found: Found, cell: NotebookNode, question: str) -> Found:
    """Return the kept answer of ``question`` if it holds more acts than the one ``found`` after the run."""
    kept = cell.metadata.get(KEPT)
    if not isinstance(kept, list):
        return found
    before = found_in_cell(kept, question)
    return before if len(before.acts) > len(found.acts) else found
