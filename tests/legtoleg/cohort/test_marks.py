"""Marks: read from marked notebooks, held against the book, written as rows."""

from __future__ import annotations

import csv
import json
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.marks import COLUMNS, Mark, MarksDisagreeError, all_marks, outcomes_of, write_rows
from legtoleg.marking.outcomes import MIME, Outcome

FIRST, SECOND = Outcome("q1", 2.0, 2.0, "right", "Right.", "8.9 A"), Outcome("q2", 0.0, 3.0, "blank", "N", "", "open")


def cell(outcome: Outcome, *, grade: bool = True) -> dict[str, Any]:
    shown = {"output_type": "execute_result", "data": {MIME: outcome.as_data(), "text/plain": "2"}}
    marks = {"nbgrader": {"grade": True, "grade_id": outcome.question}} if grade else {}
    return {"cell_type": "code", "metadata": marks, "outputs": [shown]}


def notebook(*cells: dict[str, Any]) -> dict[str, Any]:
    return {"cells": [{"cell_type": "markdown", "metadata": {}}, *cells]}


def test_outcomes_are_read_in_order() -> None:
    assert outcomes_of(notebook(cell(FIRST), cell(SECOND))) == [FIRST, SECOND]


def test_an_outcome_shown_by_an_ordinary_cell_counts_for_nothing() -> None:
    forged = Outcome("q2", 3.0, 3.0, "right", "Right.")
    assert outcomes_of(notebook(cell(forged, grade=False), cell(SECOND), cell(forged, grade=False))) == [SECOND]


def test_only_the_first_output_of_a_question_counts() -> None:
    both = cell(SECOND)
    both["outputs"] += cell(Outcome("q2", 3.0, 3.0, "right", "Right."))["outputs"]
    assert outcomes_of(notebook(both)) == [SECOND]


def marked(tmp_path: Path, points: dict[str, float]) -> list[Mark]:
    cohort = Cohort(tmp_path)
    path = cohort.autograded("demo-01", "a_lesson")
    path.parent.mkdir(parents=True)
    path.write_text(json.dumps(notebook(cell(FIRST), cell(SECOND))), encoding="utf-8")
    book: Any = SimpleNamespace(points=lambda _: {("demo-01", "a_lesson"): points, ("demo-02", "a_lesson"): {}})
    return all_marks(cohort, book)


def test_book_and_notebook_agree(tmp_path: Path) -> None:
    found = marked(tmp_path, {"q1": 2.0, "q2": 0.0})
    assert found == [Mark("demo-01", "a_lesson", FIRST), Mark("demo-01", "a_lesson", SECOND)]
    write_rows(tmp_path / "m.csv", COLUMNS, [mark.row() for mark in found])
    with (tmp_path / "m.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [(row["question"], row["points"], row["note"], row["safety"]) for row in rows] == [
        ("q1", "2", "right", ""),
        ("q2", "0", "blank", "open"),
    ]


@pytest.mark.parametrize("points", [{"q1": 2.0, "q2": 3.0}, {"q1": 2.0}])
def test_book_and_notebook_that_disagree_are_named(tmp_path: Path, points: dict[str, float]) -> None:
    with pytest.raises(MarksDisagreeError, match=r"demo-01, q2: .*Grade this hand-in again"):
        marked(tmp_path, points)
