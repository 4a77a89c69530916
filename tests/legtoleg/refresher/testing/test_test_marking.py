"""Marking: whatever was done to a test's page, each locked cell is there once as it was given out, in its order."""

from __future__ import annotations

import json
from datetime import date

import nbformat
from hypothesis import given, settings
from hypothesis import strategies as st

from dryerbench.notebook.answer_record import MIME
from legtoleg.intake.notebook_repair import repair
from legtoleg.refresher.record.safety_topics import course_topics
from legtoleg.refresher.testing.composition import compose
from legtoleg.refresher.testing.test_marking import kept_work, mark, restored
from legtoleg.refresher.testing.test_notebook import notebook
from legtoleg.sandbox.engine import Job, Run

ISSUE = "ada-01.r1"
ITEMS = compose(ISSUE, course_topics(), {})
GIVEN = notebook(ISSUE, "ada-01", "Ada Demo", date(2027, 3, 1), ITEMS)
ANSWERS = {f"{item.name}-answer" for item in ITEMS}
IDS = [cell.id for cell in GIVEN.cells]


@settings(max_examples=40)
@given(
    drop=st.sets(st.sampled_from(IDS)),
    change=st.sets(st.sampled_from(IDS)),
    twice=st.sets(st.sampled_from(IDS)),
    turn=st.booleans(),
)
def test_the_locked_cells_come_back(drop: set[str], change: set[str], twice: set[str], turn: bool) -> None:
    page = json.loads(nbformat.writes(GIVEN))
    cells = []
    for cell in page["cells"]:
        if cell["id"] in change:
            cell["source"] = "mine"
        cells += [] if cell["id"] in drop else [cell, cell] if cell["id"] in twice else [cell]
    page["cells"] = cells[::-1] if turn else cells
    back = restored(GIVEN, repair(json.dumps(page).encode()).notebook)
    found = [cell.id for cell in back.cells if cell.id in IDS]
    assert sorted(found) == sorted(IDS)
    assert turn or found == IDS
    given_source = {cell.id: cell.source for cell in GIVEN.cells}
    for cell in back.cells:
        if cell.id in IDS and cell.id not in ANSWERS:
            assert cell.source == given_source[cell.id]
        if cell.id in ANSWERS and cell.id not in drop:
            assert (cell.source == "mine") == (cell.id in change)


def page_with(name: str, acts: list[dict[str, object]]) -> bytes:
    """Return the test as it comes back, with a record of ``acts`` shown by the question ``name``."""
    page = json.loads(nbformat.writes(GIVEN))
    record = {"form": 1, "question": name, "apprentice": ISSUE, "kind": "work", "acts": acts}
    cell = next(cell for cell in page["cells"] if cell["id"] == f"{name}-hand-in")
    cell["outputs"] = [{"output_type": "display_data", "data": {MIME: record}, "metadata": {}}]
    return json.dumps(page).encode()


def test_only_work_on_the_bench_is_kept_from_what_the_page_shows() -> None:
    acts: list[dict[str, object]] = [{"act": "unplug", "with": {}}]
    bench = next(item.name for item in ITEMS if item.on_bench)
    paper = next(item.name for item in ITEMS if not item.on_bench)
    assert list(kept_work(repair(page_with(bench, acts)).notebook, ITEMS)) == [bench]
    assert kept_work(repair(page_with(bench, [])).notebook, ITEMS) == {}
    assert kept_work(repair(page_with(paper, acts)).notebook, ITEMS) == {}
    assert kept_work(repair(nbformat.writes(GIVEN).encode()).notebook, ITEMS) == {}


class Ended:
    """An engine whose notebooks end before their first cell."""

    def run(self, job: Job) -> Run:
        return Run(ended="it used more memory than it may")

    def close(self) -> None:
        pass


def test_a_test_that_does_not_run_is_not_passed_and_holds_nobody() -> None:
    content = nbformat.writes(GIVEN).encode()
    made = mark(ISSUE, ITEMS, GIVEN, repair(content), Ended())
    assert not made.passed
    assert made.points == 0
    assert made.held == []
    assert {outcome.note for _, outcome in made.outcomes} == {"kernel_died"}
    assert made.remarks == ["the test did not run to its end: it used more memory than it may"]
    assert len(made.missed) == len(ITEMS)
