"""What was done by click counts after the page was run again without anybody there, and is still done again."""

from __future__ import annotations

import copy
import json
from importlib import import_module
from pathlib import Path
from typing import Any

import nbformat
import pytest
from nbformat.notebooknode import NotebookNode
from nbformat.v4 import new_output

from dryerbench.course.bench_card import open_bench
from dryerbench.notebook.answer_record import MIME
from dryerbench.notebook.forms import receive
from dryerbench.registry import sheet
from dryerbench.topics.call_to_close.sheet import heard_on
from legtoleg.authoring.building import built_path
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.marks import marks_of
from legtoleg.intake.notebook_repair import repair
from legtoleg.marking.answer_parsing import found_in_cell
from legtoleg.marking.bench_trail_recovery import KEPT, KeepWork, bench_questions, with_kept_work

LESSON = "10_call_to_close"
STUDENT = "demo-01"
CARD = sheet(LESSON).card(STUDENT)
REPAIR: tuple[tuple[str, dict[str, Any]], ...] = tuple(
    import_module("..keys.call_paths", __package__).repair(CARD, 1, heard_on(CARD))  # type: ignore[arg-type]
)


def clicked(done: tuple[tuple[str, dict[str, Any]], ...] = REPAIR) -> NotebookNode:
    """The built lesson as it is saved after work by click: nothing in the cells, the record in the output."""
    bench = open_bench(CARD)
    for act, given in done:
        bench.do(act, **given)
    received = receive(sheet(LESSON).question("call_repair"), CARD, bench)
    notebook = nbformat.read(built_path(LESSON), as_version=4)
    cell = next(one for one in notebook.cells if one.id == "call_repair-hand-in")
    cell.outputs = [new_output("display_data", data={MIME: received.record, "text/plain": received.reads})]
    return notebook


def hand_in_cell(notebook: NotebookNode) -> NotebookNode:
    return next(one for one in notebook.cells if one.id == "call_repair-hand-in")


def kept(notebook: NotebookNode) -> NotebookNode:
    resources = {"nbgrader": {"assignment": LESSON, "student": STUDENT}}
    return KeepWork().preprocess(copy.deepcopy(notebook), resources)[0]


def test_only_questions_on_the_bench_are_kept() -> None:
    assert bench_questions(LESSON) == {"call_fault", "call_repair", "cause_removed", "handed_over"}
    assert bench_questions("no lesson of ours") == frozenset()
    notebook = kept(clicked())
    assert [cell.id for cell in notebook.cells if KEPT in cell.metadata] == ["call_repair-hand-in"]


def test_the_longer_trail_counts() -> None:
    cell = hand_in_cell(kept(clicked()))
    blank = found_in_cell([], "call_repair")
    assert len(with_kept_work(blank, cell, "call_repair").acts) == len(REPAIR)
    more = found_in_cell(hand_in_cell(clicked((*REPAIR, ("stop", {})))).outputs, "call_repair")
    assert with_kept_work(more, cell, "call_repair") is more


@pytest.mark.parametrize("junk", [None, 7, "text", [], [{"output_type": "stream"}], [{"data": {MIME: 3}}]])
def test_a_strange_mark_in_the_metadata_is_nothing(junk: object) -> None:
    cell = hand_in_cell(clicked())
    cell.metadata[KEPT] = junk
    blank = found_in_cell([], "call_repair")
    assert with_kept_work(blank, cell, "call_repair").acts == ()


def test_a_forged_mark_from_the_page_is_dropped() -> None:
    notebook = clicked()
    hand_in_cell(notebook).metadata[KEPT] = [{"forged": True}]
    other = next(one for one in notebook.cells if one.id == "call_fault-hand-in")
    other.metadata[KEPT] = hand_in_cell(notebook).outputs
    again = kept(notebook)
    assert KEPT not in next(one for one in again.cells if one.id == "call_fault-hand-in").metadata
    assert hand_in_cell(again).metadata[KEPT] == hand_in_cell(notebook).outputs


@pytest.mark.slow
@pytest.mark.filterwarnings("ignore::sqlalchemy.exc.SAWarning")
def test_work_by_click_is_marked_by_nbgrader_s_own_autograde(tmp_path: Path) -> None:
    cohort = Cohort.make(tmp_path / "cohort", [LESSON])
    path = cohort.submitted(STUDENT, LESSON)
    path.parent.mkdir(parents=True)
    nbformat.write(clicked(), path)
    cohort.run("autograde", LESSON, STUDENT)
    marks = {mark.outcome.question: mark.outcome for mark in marks_of(cohort, STUDENT, LESSON)}
    assert marks["call_repair"].note == "right"
    assert marks["call_repair"].points == marks["call_repair"].max_points
    assert marks["call_fault"].note == "blank"


@pytest.mark.parametrize("strip_ids", [False, True], ids=["as saved", "without cell ids"])
def test_work_by_click_comes_through_the_rescue(strip_ids: bool) -> None:
    notebook = clicked()
    if strip_ids:
        notebook.nbformat_minor = 4
        for cell in notebook.cells:
            del cell["id"]
    rescued = repair(json.dumps(notebook).encode("utf-8")).notebook
    assert [len(cell.outputs) for cell in rescued.cells if cell.get("outputs")] == [1]
    (cell,) = (cell for cell in kept(rescued).cells if KEPT in cell.metadata)
    assert cell.metadata.nbgrader.grade_id == "call_repair"
    assert len(with_kept_work(found_in_cell([], "call_repair"), cell, "call_repair").acts) == len(REPAIR)
