"""A lesson answered in boxes and marked by the course's own command: full marks, told as answered, compared as text."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import nbformat
import pytest
from nbformat.v4 import new_output

from dryerbench.course.questions import BenchQuestion, FaultQuestion, Readings
from dryerbench.notebook.answer_entry import AnswerEntry
from dryerbench.registry import sheet
from legtoleg.authoring.building import built_path
from legtoleg.cohort.batch_marking import Marker
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.gradebook import Book
from legtoleg.cohort.marks import all_marks
from legtoleg.report.answer_cells import paper_of
from legtoleg.sandbox.thread_pool import local_pool

pytestmark = [pytest.mark.slow, pytest.mark.filterwarnings("ignore::sqlalchemy.exc.SAWarning")]
LESSON, STUDENT = "02_two_legs", "demo-02"
TYPED = "leg_to_leg_volts"


def by_boxes(worked: dict[str, Any]) -> nbformat.NotebookNode:
    """The built lesson as it is saved after its boxes were filled in and its bench worked on: no code in it."""
    card, page = sheet(LESSON).card(STUDENT), nbformat.read(built_path(LESSON), as_version=4)
    for question in sheet(LESSON).questions:
        value = worked[question.name]
        blank = value if isinstance(question, BenchQuestion) else {} if isinstance(question, Readings) else ""
        entry = AnswerEntry(question, card, blank)
        assert not isinstance(question, FaultQuestion)
        if isinstance(question, Readings):
            entry.type_in({label: str(one) for label, one in value.items()})
        elif not isinstance(question, BenchQuestion):
            entry.type_in(str(value))
        cell = next(cell for cell in page.cells if cell.id == f"{question.name}-hand-in")
        cell.outputs = [new_output("display_data", data=json.loads(json.dumps(entry.taken.bundle)))]
    return page


def test_boxes_are_marked_as_cells_are(fresh: Cohort, worked_answers: Callable[[str, str], dict[str, Any]]) -> None:
    worked = worked_answers(LESSON, STUDENT)
    path = fresh.submitted(STUDENT, LESSON)
    path.parent.mkdir(parents=True)
    nbformat.write(by_boxes(worked), path)
    with local_pool(1) as pool, Book(fresh.book) as book:
        assert Marker(fresh, book).mark(pool).marked == 1
        outcomes = {mark.outcome.question: mark.outcome for mark in all_marks(fresh, book)}
    lost = {name: (one.note, one.points) for name, one in outcomes.items() if one.points != one.max_points}
    assert lost == {}
    marked = nbformat.read(fresh.autograded(STUDENT, LESSON), as_version=4)
    cells = paper_of(marked, STUDENT, LESSON).cells
    assert cells[TYPED].code == f"{TYPED} = {str(worked[TYPED])!r}"
