"""A lesson that the warm parent ran once as it was released changes nothing in what its notebooks show."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

import nbformat
import pytest

from legtoleg.authoring.building import built_path
from legtoleg.core.paths import lesson_names
from legtoleg.demo.simulated_apprentices import filled_in, simulate
from legtoleg.sandbox import engine as engines
from legtoleg.sandbox.engine import Job, Run, WarmEngine, released_cells

pytestmark = [pytest.mark.slow, pytest.mark.jail]


def job(lesson: str, number: int) -> Job:
    person = simulate(number, 1, lesson)
    notebook = filled_in(nbformat.read(built_path(lesson), as_version=4), person)
    cells = tuple(cell.source for cell in notebook.cells if cell.cell_type == "code")
    return Job(person.apprentice, lesson, cells)


@pytest.fixture
def engine(bubblewrap: None) -> Iterator[WarmEngine]:
    with WarmEngine() as started:
        yield started


def said(run: Run) -> Any:
    """Return what a run showed; places in memory, and by the clock when an act was done, differ each time."""
    return run.ended, re.sub(r'0x[0-9a-f]{6,}|"at": [0-9.]+', "", json.dumps(run.outputs, sort_keys=True))


def test_it_shows_the_same(engine: WarmEngine, monkeypatch: pytest.MonkeyPatch) -> None:
    jobs = [job(lesson, number) for lesson in lesson_names() for number in (2, 5)]
    monkeypatch.setattr(engines, "_WARM_AT", -1)
    cold = [said(engine.run(one)) for one in jobs]
    monkeypatch.setattr(engines, "_WARM_AT", 1)
    engine._came.clear()
    warm = [said(engine.run(one)) for one in jobs]
    for one, before, after in zip(jobs, cold, warm, strict=True):
        assert after == before, (one.lesson, one.apprentice)


def test_a_warmed_lesson_is_not_open_and_leaves_no_name(engine: WarmEngine, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(engines, "_WARM_AT", 1)
    look = "import os; sorted(n for n in globals() if not n.startswith('_')), os.environ.get('LEGTOLEG_APPRENTICE')"
    run = engine.run(Job("ada-01", "03_heater_power", (look, "from dryerbench import *\nhand_in('drift', '1 A')")))
    text = str(run.outputs[0][0]["data"])
    assert "card" not in text
    assert "drift" not in text
    assert "ada-01" in text
    assert "Run the cell with your job card first" in str(run.outputs[1])


def test_it_was_really_run(engine: WarmEngine, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(engines, "released_cells", lambda _: ("import dryerbench; dryerbench.was_here = True",))
    found = [
        str(engine.run(Job("a", "x", ("import dryerbench; hasattr(dryerbench, 'was_here')",))).outputs) for _ in "12"
    ]
    assert ["False" in found[0], "True" in found[1]] == [True, True]


def test_what_is_run_holds_no_answer() -> None:
    for lesson in lesson_names():
        assert len(released_cells(lesson)) > 5
        built = nbformat.read(built_path(lesson), as_version=4)
        assert list(released_cells(lesson)) == [cell.source for cell in built.cells if cell.cell_type == "code"]
    assert released_cells("no such lesson") == ()
