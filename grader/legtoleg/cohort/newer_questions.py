"""Questions that are newer than a hand-in's kit: their answer cells are put in, blank, so that the rest is graded.

A cohort whose own release is older is another matter: its book has other questions or points, and nbgrader lets nobody
change those once there are hand-ins. Its lesson is not graded by rules that its apprentices never saw.

nbgrader puts a missing graded cell back below its answer, and stops if that answer is missing too.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable
from functools import cache
from pathlib import Path

from nbformat.notebooknode import NotebookNode
from nbformat.v4 import new_code_cell
from nbgrader.preprocessors.base import NbGraderPreprocessor

from dryerbench.registry import SHEETS
from legtoleg.authoring.lesson_source import solved_notebook
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.gradebook_cache import CachedAssignment
from legtoleg.core.notebook_format import Resources
from legtoleg.intake.submissions import HandIn

__all__ = ["AddNewerQuestions", "left_as_they_are", "newer_in"]

_NEWER = "legtoleg_newer"
"""The field in the metadata of an answer cell that the hand-in did not have."""


class AddNewerQuestions(NbGraderPreprocessor):  # type: ignore[misc]
    """Adds a blank answer for each released question of which a notebook has neither answer nor hand-in."""

    paper: CachedAssignment | None = None
    """The lesson as the book holds it; None: every question of the course was released."""

    def preprocess(self, nb: NotebookNode, resources: Resources) -> tuple[NotebookNode, Resources]:
        """Add what the lesson in ``resources`` asks and ``nb`` does not know; leave other assignments as they are."""
        lesson = resources["nbgrader"]["assignment"]
        if lesson in SHEETS:
            there = {_name(cell) for cell in nb.cells}
            answers = _answers(lesson)
            asked = set(answers) if self.paper is None else {cell.name for cell in self.paper.grade_cells}
            for name, marks in answers.items():
                if name in asked and not there & {name, f"{name}_answer"}:
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


def changed_since(released: Path, lesson: str) -> list[str]:
    """Return the titles of the questions of ``lesson`` that ``released`` lacks, or gives other points for.

    A file that cannot be read as a notebook says nothing: the book holds what was released.
    """
    try:
        cells = json.loads(released.read_text(encoding="utf-8"))["cells"]
    except (OSError, ValueError, LookupError, TypeError):
        return []
    marks = [cell.get("metadata", {}).get("nbgrader", {}) for cell in cells]
    points = {mark.get("grade_id"): mark.get("points") for mark in marks if mark.get("grade")}
    return [one.title for one in SHEETS[lesson].questions if points.get(one.name) != one.points]


def left_as_they_are(cohort: Cohort, hand_ins: Iterable[HandIn]) -> dict[str, str]:
    """Return the lessons whose release in ``cohort`` is another than the course's, each with what is to be said."""
    found = {}
    for lesson, count in Counter(one.lesson for one in hand_ins).items():
        released = cohort.released(lesson)
        if lesson not in SHEETS or not released.is_file() or not (other := changed_since(released, lesson)):
            continue
        titles = ", ".join(f"“{title}”" for title in other)
        found[lesson] = (
            f"{lesson}: this cohort was set up with another version of the lesson. "
            f"Other questions or points: {titles}. Hand-ins left as they are: {count}; grades given stay. "
            "Grade them with the version of the course that set the cohort up. "
            "For the new lesson, set up a new cohort."
        )
    return found
