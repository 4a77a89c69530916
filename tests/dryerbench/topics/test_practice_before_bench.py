"""Before every graded bench a lesson has one of its kind on which nothing is graded, on a machine of the family."""

from __future__ import annotations

import re

import nbformat
import pytest

from dryerbench.course.questions import BenchQuestion, FaultQuestion
from dryerbench.registry import PRACTICE_BENCHES, SHEETS
from legtoleg.authoring.building import built_path

CALLS = "10_call_to_close"
"""Its graded benches are service calls: practice calls of the same three kinds come before them."""
_PRACTICE = re.compile(r"^(practice_bench|practice_call)\((?:\"(\w+)\")?", re.MULTILINE)


def practiced_for(name: str) -> set[str]:
    """Return the graded questions that the practice bench ``name`` is the practice of."""
    return {name, *PRACTICE_BENCHES[name].also_before}


def not_practiced(lesson: str, cells: list[nbformat.NotebookNode]) -> list[str]:
    """Return the graded benches of ``lesson`` before which there is no unmarked one of their kind."""
    graded = {one.name for one in SHEETS[lesson].questions if isinstance(one, BenchQuestion | FaultQuestion)}
    ready: set[str] = set()
    found = []
    for cell in (cell for cell in cells if cell.cell_type == "code"):
        for call, name in _PRACTICE.findall(cell.source):
            ready |= practiced_for(name) if call == "practice_bench" else graded
        asked = str(cell.id).removesuffix("-answer").replace("-", "_")
        if str(cell.id).endswith("-answer") and asked in graded - ready:
            found.append(asked)
    return found


def cells_of(lesson: str) -> list[nbformat.NotebookNode]:
    return list(nbformat.read(built_path(lesson), as_version=4).cells)


@pytest.mark.parametrize("lesson", SHEETS)
def test_every_graded_bench_has_an_unmarked_one_of_its_kind_before_it(lesson: str) -> None:
    assert not_practiced(lesson, cells_of(lesson)) == []


@pytest.mark.parametrize("lesson", SHEETS)
def test_every_graded_bench_is_found_where_its_practice_is_taken_out(lesson: str) -> None:
    graded = [one.name for one in SHEETS[lesson].questions if isinstance(one, BenchQuestion | FaultQuestion)]
    bare = [cell for cell in cells_of(lesson) if not _PRACTICE.search(cell.source)]
    assert not_practiced(lesson, bare) == graded


def test_practice_after_the_grade_is_no_practice() -> None:
    cells = cells_of("01_made_dead")
    there = next(cell for cell in cells if "practice_bench(" in cell.source and cell.cell_type == "code")
    moved = [*(cell for cell in cells if cell is not there), there]
    assert not_practiced("01_made_dead", moved) == ["make_dead"]


def test_no_practice_bench_is_of_no_question() -> None:
    asked = {one.name for spec in SHEETS.values() for one in spec.questions}
    assert {name for kind in PRACTICE_BENCHES for name in practiced_for(kind)} <= asked
    calls = [cell.source for cell in cells_of(CALLS) if "practice_call(" in cell.source]
    assert len(calls) >= 2


def test_a_call_on_a_dryer_without_names_is_practiced_before_the_first_that_is_graded() -> None:
    cells = [cell for cell in cells_of(CALLS) if cell.cell_type == "code"]
    practiced = next(place for place, cell in enumerate(cells) if cell.source.startswith("machine_call("))
    graded = next(place for place, cell in enumerate(cells) if str(cell.id).endswith("-answer"))
    assert practiced < graded
