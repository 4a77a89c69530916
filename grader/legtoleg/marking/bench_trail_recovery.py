"""Kept work: what was done by click or typed in a box is in no cell, so its record is kept from the page as handed in.

When a notebook is run again to be marked, nobody clicks. The record that the hand-in left in the page is kept in the
cell's metadata before outputs are cleared. It counts where the second run has fewer acts than the page, and where it
was given in a box and the code cell says the same as it did then. All of it is data that a notebook could choose as it
likes: the marker does the acts again on the machine of that apprentice, and marks an answer as one from a cell.
"""

from __future__ import annotations

import copy
from collections.abc import Iterable, Mapping

from nbformat.notebooknode import NotebookNode
from nbgrader.preprocessors import NbGraderPreprocessor

from dryerbench.course.questions import BenchQuestion, FaultQuestion
from dryerbench.notebook.answer_record import BOX, stands
from dryerbench.registry import SHEETS
from legtoleg.core.notebook_format import Resources
from legtoleg.marking.answer_parsing import Found, found_in_cell, record_in

KEPT = "leg_to_leg_kept"
"""Where in a cell's metadata the outputs with the record stand."""


class KeepWork(NbGraderPreprocessor):  # type: ignore[misc]
    """Keeps the records of work on the bench and of boxes before nbgrader clears the page's outputs."""

    def preprocess(self, nb: NotebookNode, resources: Resources) -> tuple[NotebookNode, Resources]:
        """Keep what the hand-in cells of the lesson in ``resources`` hold that no second run can make."""
        lesson = resources["nbgrader"]["assignment"]
        asked = {question.name for question in SHEETS[lesson].questions} if lesson in SHEETS else set()
        on_bench = bench_questions(lesson)
        for cell in nb.cells:
            cell.metadata.pop(KEPT, None)
            name = handed_in_by(cell)
            outputs = cell.get("outputs", [])
            if name in asked and (boxed_in(outputs, name) or (name in on_bench and found_in_cell(outputs, name).acts)):
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
    """Return the kept answer of ``question`` where it counts in place of the one ``found`` after the run.

    It does if it has more acts, or was given in a box and the cell's code says what it said then.
    """
    kept = cell.metadata.get(KEPT)
    if not isinstance(kept, list):
        return found
    before, boxed = found_in_cell(kept, question), boxed_in(kept, question)
    newer = boxed is not None and stands(boxed, record_in(cell.get("outputs", []), question))
    return before if newer or len(before.acts) > len(found.acts) else found


def boxed_in(outputs: Iterable[Mapping[str, object]], question: str) -> Mapping[str, object] | None:
    """Return the record in ``outputs`` if it answers ``question`` and was given in a box."""
    record = record_in(outputs, question)
    return record if record is not None and record.get("by") == BOX else None
