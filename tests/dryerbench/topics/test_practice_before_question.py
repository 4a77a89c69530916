"""Before the first graded question of each kind a lesson has practice of that kind, judged at once and not graded."""

from __future__ import annotations

import re
from pathlib import Path

import nbformat
import pytest

from dryerbench.course.questions import Asked
from dryerbench.registry import PRACTICE_QUESTIONS, SHEETS, lesson_of
from legtoleg.authoring.building import built_path

_PRACTICE = re.compile(r"^(practice_question|practice_bench|practice_call|practice)\((?:\"(\w+)\")?", re.MULTILINE)
_BENCH_KINDS = ("work", "fault")
"""Kinds that a practice bench or a practice call is of; which bench before which question has a test of its own."""


def kinds_of(lesson: str) -> dict[str, str]:
    """Return the kind of each graded question of ``lesson``, by its name."""
    questions: tuple[Asked, ...] = SHEETS[lesson].questions
    return {one.name: one.kind for one in questions}


def not_practiced(lesson: str, cells: list[nbformat.NotebookNode]) -> list[str]:
    """Return the graded questions of ``lesson`` before which nothing of their kind was practiced in the page."""
    kinds, ready, found = kinds_of(lesson), set(), []
    for cell in (cell for cell in cells if cell.cell_type == "code"):
        for call, name in _PRACTICE.findall(cell.source):
            ready |= {"practice_question": {kinds.get(name, "")}, "practice": {"quantity"}}.get(call, set(_BENCH_KINDS))
        asked = str(cell.id).removesuffix("-answer").replace("-", "_")
        if str(cell.id).endswith("-answer") and asked in kinds and kinds[asked] not in ready:
            found.append(asked)
    return found


def cells_of(lesson: str) -> list[nbformat.NotebookNode]:
    return list(nbformat.read(built_path(lesson), as_version=4).cells)


@pytest.mark.parametrize("lesson", SHEETS)
def test_every_kind_of_graded_question_is_practiced_before_it(lesson: str) -> None:
    assert not_practiced(lesson, cells_of(lesson)) == []


@pytest.mark.parametrize("lesson", SHEETS)
def test_every_question_is_found_where_its_practice_is_taken_out(lesson: str) -> None:
    bare = [cell for cell in cells_of(lesson) if not _PRACTICE.search(cell.source)]
    assert not_practiced(lesson, bare) == list(kinds_of(lesson))


@pytest.mark.parametrize("lesson", SHEETS)
def test_practice_after_the_grade_is_no_practice(lesson: str) -> None:
    cells = cells_of(lesson)
    moved = sorted(cells, key=lambda cell: cell.cell_type == "code" and "practice_question(" in cell.source)
    here = {name: kind for name, kind in kinds_of(lesson).items() if kind not in (*_BENCH_KINDS, "quantity")}
    assert not_practiced(lesson, moved) == list(here)


@pytest.mark.parametrize("name", sorted(PRACTICE_QUESTIONS))
def test_every_practice_stands_in_the_page_of_its_lesson_before_its_question(name: str) -> None:
    (lesson,) = (lesson for lesson in SHEETS if name in kinds_of(lesson))
    cells = cells_of(lesson)
    (there,) = (at for at, cell in enumerate(cells) if f'practice_question("{name}")' in cell.source)
    graded = next(at for at, cell in enumerate(cells) if str(cell.id).replace("-", "_") == f"{name}_answer")
    assert there < graded


@pytest.mark.parametrize("name", PRACTICE_QUESTIONS)
def test_what_is_to_be_read_again_is_a_heading_of_the_lesson(name: str) -> None:
    text = (Path(__file__).parents[3] / "solutions" / f"{lesson_of(name)}.md").read_text(encoding="utf-8")
    assert re.search(rf"(?m)^##+ {re.escape(PRACTICE_QUESTIONS[name].read)}$", text)
