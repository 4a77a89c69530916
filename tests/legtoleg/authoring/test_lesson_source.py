"""Sources: questions expanded, ids stable, mistakes in a source said in one line."""

from __future__ import annotations

import re

import nbformat
import pytest

from dryerbench.registry import SHEETS
from legtoleg.authoring import lesson_source
from legtoleg.authoring.building import built_path
from legtoleg.authoring.lesson_source import (
    SourceError,
    made_notebook,
    solved_notebook,
    source_path,
    start_page,
    worked_source,
)
from legtoleg.core.paths import START


@pytest.mark.parametrize("lesson", list(SHEETS))
def test_every_question_has_its_three_cells(lesson: str) -> None:
    cells = {cell.id: cell for cell in solved_notebook(lesson).cells}
    for question in SHEETS[lesson].questions:
        answer, hand_in = cells[f"{question.name}-answer"], cells[f"{question.name}-hand-in"]
        assert f"{question.points} point" in cells[f"{question.name}-asked"].source
        assert answer.metadata.nbgrader.solution
        assert hand_in.metadata.nbgrader.grade
        assert hand_in.metadata.nbgrader.points == question.points
        assert hand_in.metadata.nbgrader.locked
        assert ("safety" in cells[f"{question.name}-asked"].source) == question.safety


@pytest.mark.parametrize("lesson", list(SHEETS))
def test_ids_are_unique_and_stable(lesson: str) -> None:
    first = [cell.id for cell in solved_notebook(lesson).cells]
    made_notebook.cache_clear()
    second = [cell.id for cell in solved_notebook(lesson).cells]
    assert first == second
    assert len(set(first)) == len(first)


@pytest.mark.parametrize("lesson", list(SHEETS))
def test_code_cells_hold_nothing_a_mechanic_must_not_read(lesson: str) -> None:
    for cell in solved_notebook(lesson).cells:
        if cell.cell_type == "code" and "BEGIN SOLUTION" not in cell.source:
            assert "def " not in cell.source
            assert "import" not in cell.source or cell.source.startswith("from dryerbench import *")
            assert len([line for line in cell.source.splitlines() if "bench." not in line]) <= 4


def test_a_notebook_is_made_once_and_each_asker_has_a_copy_to_change() -> None:
    first = solved_notebook("03_heater_power")
    made = made_notebook.cache_info().misses
    first.cells.clear()
    assert solved_notebook("03_heater_power").cells
    assert made_notebook.cache_info().misses == made


def test_worked_source() -> None:
    assert worked_source("03_heater_power", "element_current").startswith("element_current = ")
    with pytest.raises(SourceError, match="no worked answer"):
        worked_source("03_heater_power", "color")


def test_a_missing_source_is_said() -> None:
    with pytest.raises(SourceError, match=r"no source solutions/99_x\.md"):
        source_path("99_x")


def test_a_source_that_forgets_a_question_is_said(monkeypatch: pytest.MonkeyPatch, tmp_path) -> None:
    text = source_path("03_heater_power").read_text(encoding="utf-8").replace(":question: hot_ohms\n", "")
    (tmp_path / "03_heater_power.md").write_text(text, encoding="utf-8")
    monkeypatch.setattr(lesson_source, "course_folder", lambda _: tmp_path)
    with pytest.raises(SourceError, match="the lesson's sheet wants"):
        solved_notebook("03_heater_power")


@pytest.mark.parametrize("lesson", [START, *SHEETS])
def test_code_is_folded_and_text_is_safe_from_slips(lesson: str) -> None:
    built = nbformat.read(built_path(lesson), as_version=4)
    for cell in built.cells:
        if cell.cell_type == "code":
            assert cell.metadata.jupyter.source_hidden
        else:
            assert cell.metadata.editable is False
    answers = [cell for cell in built.cells if cell.id.endswith("-answer")]
    assert all("editable" not in cell.metadata for cell in answers)


def test_the_start_page_links_every_lesson_and_says_how_to_stop() -> None:
    (said,) = (cell.source for cell in start_page().cells if cell.id == "lessons-and-files")
    ways = re.findall(r"\]\(\.\./(\w+)/(\w+)\.ipynb\)", said)
    assert ways == [(lesson, lesson) for lesson in SHEETS]
    for words in ("Run All Cells", "To stop", "To come back", "hand_in", "kept_work"):
        assert words in said
