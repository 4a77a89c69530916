"""Restoring: whatever was done to a notebook's cells, what is run has the lesson's own locked cells."""

from __future__ import annotations

import copy
import re
from collections.abc import Callable
from types import SimpleNamespace
from typing import Any

import nbformat
import pytest
from nbformat.notebooknode import NotebookNode

from dryerbench.registry import sheet
from legtoleg.authoring.building import built_path
from legtoleg.cohort.cell_restoring import Restorer, resources_for
from legtoleg.cohort.gradebook_cache import BookCell, BookRows, CachedAssignment
from legtoleg.cohort.marks import outcomes_of
from legtoleg.cohort.nbgrader_steps import MarkAnswers
from legtoleg.cohort.newer_questions import newer_in
from legtoleg.core.notebook_format import KERNEL

LESSON = "03_heater_power"
RELEASED = nbformat.read(built_path(LESSON), as_version=4)
NAMES = [question.name for question in sheet(LESSON).questions]


def paper() -> CachedAssignment:
    """Return the lesson as its release put it into the book."""
    marks = [(cell, cell.metadata.nbgrader) for cell in RELEASED.cells if "nbgrader" in cell.metadata]
    source = [BookCell(m.grade_id, c.cell_type, m.locked, c.source, m.get("checksum", "")) for c, m in marks]
    graded = [BookCell(m.grade_id, c.cell_type, max_score=m.points) for c, m in marks if m.grade]
    answers = [BookCell(m.grade_id) for _, m in marks if m.solution]
    return CachedAssignment(tuple(source), tuple(graded), tuple(answers), (), BookRows("", "", {}, {}))


def place(notebook: NotebookNode, name: str) -> int:
    return next(n for n, c in enumerate(notebook.cells) if c.metadata.get("nbgrader", {}).get("grade_id") == name)


def restored(change: Callable[[NotebookNode], None]) -> NotebookNode:
    book: Any = SimpleNamespace(paper=lambda _: paper())
    notebook = copy.deepcopy(RELEASED)
    change(notebook)
    return Restorer(book).restore(notebook, "demo-01", LESSON)


def locked(notebook: NotebookNode) -> dict[str, str]:
    marks = [(cell, cell.metadata.get("nbgrader", {})) for cell in notebook.cells]
    return {mark["grade_id"]: cell.source for cell, mark in marks if mark.get("locked")}


def _code(source: str) -> str:
    """Return a cell without nbgrader's remark that it had been missing."""
    return re.sub(r"\A# This cell .* was missing .*\n+", "", source)


def rewrite(notebook: NotebookNode) -> None:
    notebook.cells[place(notebook, NAMES[0])].source = "print('all points')"


def remove(notebook: NotebookNode) -> None:
    del notebook.cells[place(notebook, NAMES[1])]


def double(notebook: NotebookNode) -> None:
    again = copy.deepcopy(notebook.cells[place(notebook, NAMES[2])])
    notebook.cells.append(NotebookNode({**again, "id": "as-the-rescue-names-it"}))


def unmark(notebook: NotebookNode) -> None:
    for cell in notebook.cells:
        cell.metadata.pop("nbgrader", None)


def worth_more(notebook: NotebookNode) -> None:
    notebook.cells[place(notebook, NAMES[0])].metadata.nbgrader.points = 1000


@pytest.mark.parametrize("change", [rewrite, remove, double, unmark, worth_more])
def test_locked_cells_and_points_are_the_lessons_own(change: Callable[[NotebookNode], None]) -> None:
    notebook = restored(change)
    found = locked(notebook)
    assert set(found) == set(locked(RELEASED))
    assert not [name for name, source in locked(RELEASED).items() if _code(found[name]) != _code(source)]
    marks = [cell["metadata"]["nbgrader"] for cell in notebook.cells if "nbgrader" in cell["metadata"]]
    assert len({mark["grade_id"] for mark in marks}) == len(marks)
    points = {mark["grade_id"]: mark["points"] for mark in marks if mark["grade"]}
    assert points == {question.name: question.points for question in sheet(LESSON).questions}
    ids = [cell.id for cell in notebook.cells]
    assert len(set(ids)) == len(ids)


def test_outputs_go_and_the_kernel_is_ours() -> None:
    def change(notebook: NotebookNode) -> None:
        notebook.metadata.kernelspec = NotebookNode(name="another", display_name="Another")
        notebook.cells[place(notebook, NAMES[0])].outputs = [
            NotebookNode(output_type="stream", name="stdout", text="x")
        ]

    notebook = restored(change)
    assert notebook.metadata.kernelspec == KERNEL
    assert not [cell for cell in notebook.cells if cell.get("outputs")]


def test_what_was_typed_stays() -> None:
    def change(notebook: NotebookNode) -> None:
        notebook.cells[place(notebook, f"{NAMES[0]}_answer")].source = 'mine = "8.9 A"'

    notebook = restored(change)
    assert notebook.cells[place(notebook, f"{NAMES[0]}_answer")].source == 'mine = "8.9 A"'


def test_the_steps_get_no_address_of_the_book() -> None:
    assert resources_for("ada", "a_lesson")["nbgrader"]["db_url"] == ""


# --- questions newer than the kit -----------------------------------------------------------------------------------


def older(notebook: NotebookNode) -> None:
    """Take the last two questions out whole, as a kit from before they were asked."""
    gone = {name for asked in NAMES[-2:] for name in (asked, f"{asked}_answer", f"{asked}_options")}
    notebook.cells = [c for c in notebook.cells if c.metadata.get("nbgrader", {}).get("grade_id") not in gone]


def test_a_hand_in_of_an_older_kit_gets_the_new_questions_blank_and_below_each_other() -> None:
    notebook = restored(older)
    assert newer_in(notebook) == NAMES[-2:]
    for name in NAMES[-2:]:
        assert place(notebook, name) > place(notebook, f"{name}_answer")
        assert notebook.cells[place(notebook, f"{name}_answer")].source == f'{name} = ""'
    assert newer_in(restored(lambda _: None)) == []


def test_an_answer_alone_taken_out_is_no_older_kit() -> None:
    def without(notebook: NotebookNode) -> None:
        del notebook.cells[place(notebook, f"{NAMES[-1]}_answer")]

    assert newer_in(restored(without)) == []


def test_the_rest_of_an_older_hand_in_is_graded_and_the_new_questions_say_why_they_are_not() -> None:
    notebook, _ = MarkAnswers().preprocess(restored(older), resources_for("demo-01", LESSON))
    outcomes = {outcome.question: outcome for outcome in outcomes_of(notebook)}
    assert [name for name in NAMES if outcomes[name].note == "newer"] == NAMES[-2:]
    assert "your kit is older than the question" in outcomes[NAMES[-1]].message
    assert outcomes[NAMES[0]].note == "no_record"
