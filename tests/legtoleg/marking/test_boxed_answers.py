"""Answers given in boxes: in every lesson they earn what the same answers earn in code cells, after a second run."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from typing import Any

import nbformat
import pytest
from IPython.core.interactiveshell import InteractiveShell
from IPython.utils.capture import capture_output
from nbformat.notebooknode import NotebookNode
from nbformat.v4 import new_output

from dryerbench.core import identity
from dryerbench.course.questions import AnyQuestion, BenchQuestion, FaultQuestion, Lettered, Readings
from dryerbench.drawing import interactive_figure
from dryerbench.notebook.answer_box import AnswerBox
from dryerbench.notebook.answer_entry import AnswerEntry
from dryerbench.notebook.answer_record import MIME, mark_of, stands
from dryerbench.notebook.taken_answer import take
from dryerbench.registry import sheet
from legtoleg.authoring.building import built_path
from legtoleg.authoring.lesson_source import solved_notebook
from legtoleg.core.paths import lesson_names
from legtoleg.marking.answer_parsing import found_in_cell
from legtoleg.marking.bench_trail_recovery import KEPT, KeepWork, with_kept_work
from legtoleg.marking.marking import mark_lesson

STUDENT = "demo-03"
Outputs = dict[str, list[dict[str, Any]]]


@pytest.fixture(scope="module")
def shell() -> Iterator[InteractiveShell]:
    made = InteractiveShell.instance()
    made.history_manager.enabled = False
    made.history_manager.end_session()
    yield made
    InteractiveShell.clear_instance()


@pytest.fixture(autouse=True)
def only_run(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(interactive_figure.MODE, "words")
    monkeypatch.setenv(identity.VARIABLE, STUDENT)


def run(shell: InteractiveShell, notebook: NotebookNode) -> tuple[Outputs, dict[str, object]]:
    """Run a lesson as the marker does; return what each hand-in cell showed, and what it handed in."""
    shown: Outputs = {}
    handed: dict[str, object] = {}
    for cell in notebook.cells:
        if cell.cell_type == "code":
            with capture_output() as captured:
                shell.run_cell(cell.source, store_history=False)
            if cell.metadata.nbgrader.grade:
                name = cell.metadata.nbgrader.grade_id
                shown[name] = [{"output_type": "display_data", "data": one.data} for one in captured.outputs]
                handed[name] = shell.user_ns[name]
    return shown, handed


def as_text(value: object) -> str:
    return value if isinstance(value, str) else str(value)


def for_box(question: AnyQuestion, value: Any) -> object:
    """Return what a person would type or click in the box to say what the code cell says."""
    if isinstance(question, FaultQuestion):
        return value[0]
    if isinstance(question, Readings):
        return {label: as_text(one) for label, one in value.items()}
    return as_text(value)


def wrong(question: AnyQuestion, value: Any) -> Any:
    """Return another answer of the same form, right in some places and wrong in most."""
    if isinstance(question, BenchQuestion):
        return value
    if isinstance(question, FaultQuestion):
        return ("a", value[1])
    if isinstance(question, Readings):
        return dict.fromkeys(value, "OL")
    if isinstance(question, Lettered):
        return " ".join(question.lettered(sheet_card(question)))[:1]
    return "7.5 A / 2"


def sheet_card(question: AnyQuestion) -> Any:
    lesson = next(name for name in lesson_names() if question in sheet(name).questions)
    return sheet(lesson).card(STUDENT)


def blank(question: AnyQuestion, value: Any) -> object:
    """Return what the untouched answer cell sets, with the bench that was worked on."""
    bench = value[1] if isinstance(question, FaultQuestion) else value
    return eval(question.empty, {"bench": bench})  # the course's own text


def marks(lesson: str, shown: dict[str, Any]) -> list[tuple[str, float, str]]:
    outcomes = mark_lesson(lesson, STUDENT, shown)
    return [(name, one.points, one.note) for name, one in outcomes.items()]


@pytest.mark.parametrize("answers", [lambda _, value: value, wrong], ids=["right", "wrong"])
@pytest.mark.parametrize("lesson", lesson_names())
def test_a_lesson_by_boxes_earns_what_it_earns_by_code(
    lesson: str, answers: Callable[[AnyQuestion, Any], Any], shell: InteractiveShell
) -> None:
    card = sheet(lesson).card(STUDENT)
    _, solved = run(shell, solved_notebook(lesson))
    by_code, page = {}, nbformat.read(built_path(lesson), as_version=4)
    for question in sheet(lesson).questions:
        name, value = question.name, answers(question, solved[question.name])
        by_code[name] = found_in_cell(
            [{"output_type": "display_data", "data": {MIME: take(question, card, value).record}}], name
        )
        entry = AnswerEntry(question, card, blank(question, value))
        if not isinstance(question, BenchQuestion):
            box = AnswerBox(entry, lambda _: None)
            box.receive({"value": for_box(question, value), "turn": 1})
            assert (box.turn, box.boxed) == (1, True)
        cell = next(cell for cell in page.cells if cell.id == f"{name}-hand-in")
        cell.outputs = [new_output("display_data", data=json.loads(json.dumps(entry.taken.bundle)))]
    kept, _ = KeepWork().preprocess(page, {"nbgrader": {"assignment": lesson, "student": STUDENT}})
    again, _ = run(shell, nbformat.read(built_path(lesson), as_version=4))
    by_box = {}
    for name, outputs in again.items():
        cell = next(cell for cell in kept.cells if cell.id == f"{name}-hand-in")
        cell.outputs = outputs
        by_box[name] = with_kept_work(found_in_cell(outputs, name), cell, name)
    assert marks(lesson, by_box) == marks(lesson, by_code)
    full = [(question.name, question.points) for question in sheet(lesson).questions]
    earned = [(name, points) for name, points, _ in marks(lesson, by_box)]
    assert (earned == full) is (answers is not wrong)


QUESTION = sheet("03_heater_power").question("element_current")
CARD = sheet("03_heater_power").card(STUDENT)


def kept_cell(boxed: dict[str, Any]) -> NotebookNode:
    page = nbformat.read(built_path("03_heater_power"), as_version=4)
    cell = next(cell for cell in page.cells if cell.id == "element_current-hand-in")
    cell.outputs = [new_output("display_data", data={MIME: boxed})]
    KeepWork().preprocess(page, {"nbgrader": {"assignment": "03_heater_power", "student": STUDENT}})
    return cell


def ran(value: object) -> list[dict[str, Any]]:
    return [{"output_type": "display_data", "data": {MIME: take(QUESTION, CARD, value).record}}]


@pytest.mark.parametrize(
    ("code_then", "code_now", "counts"),
    [("", "", "8.8 A"), ("9 A", "9 A", "8.8 A"), ("9 A", "9.1 A", "9.1 A"), ("", "9 A", "9 A"), ("9 A", "", "")],
)
def test_the_newer_of_box_and_code_counts(code_then: str, code_now: str, counts: str) -> None:
    entry = AnswerEntry(QUESTION, CARD, code_then)
    entry.type_in("8.8 A")
    cell = kept_cell(entry.taken.record)
    cell.outputs = ran(code_now)
    assert with_kept_work(found_in_cell(cell.outputs, QUESTION.name), cell, QUESTION.name).typed == counts


def test_only_a_box_s_record_is_kept_where_nothing_is_clicked() -> None:
    assert KEPT not in kept_cell(take(QUESTION, CARD, "8.8 A").record).metadata
    entry = AnswerEntry(QUESTION, CARD, "")
    entry.type_in("8.8 A")
    assert KEPT in kept_cell(entry.taken.record).metadata
    assert KEPT not in kept_cell({**entry.taken.record, "magnitude": "8.8"}).metadata


def test_a_box_taken_back_leaves_the_code_s_answer() -> None:
    entry = AnswerEntry(QUESTION, CARD, "9 A")
    entry.type_in("8.8 A")
    assert stands(entry.taken.record, take(QUESTION, CARD, "9 A").record)
    entry.type_in(None)
    assert entry.taken.record == take(QUESTION, CARD, "9 A").record
    assert not stands(entry.taken.record, entry.code.record)
    assert mark_of(take(QUESTION, CARD, "").record) == mark_of(None) == ""
