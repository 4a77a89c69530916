"""The desk: a cohort marked, what is new marked again, odd things named, and a kill at any moment survived."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import nbformat
import pytest

from dryerbench.notebook.progress import SIGNED
from dryerbench.registry import sheet
from legtoleg.authoring.building import built_path
from legtoleg.cohort.batch_marking import Marker, Summary
from legtoleg.cohort.cohort_folder import ROSTER, Cohort, CohortError
from legtoleg.cohort.gradebook import Book
from legtoleg.cohort.marking_cache import MarkingCache
from legtoleg.cohort.marks import all_marks, book_points
from legtoleg.demo.simulated_apprentices import filled_in, simulate
from legtoleg.intake.roster import Person, roster_text
from legtoleg.marking.outcomes import Outcome, signed_off
from legtoleg.sandbox.thread_pool import LocalPool, local_pool

pytestmark = [pytest.mark.slow, pytest.mark.filterwarnings("ignore::sqlalchemy.exc.SAWarning")]
LESSON = "03_heater_power"
NAMES = {f"demo-0{number}": f"Demo <{number}>" for number in range(1, 9)}


@pytest.fixture(scope="module")
def pool() -> Iterator[LocalPool]:
    with local_pool(2) as started:
        yield started


def hand_in(cohort: Cohort, number: int, who: str = "", stamp: str = "") -> Path:
    """Hand in what the made-up person of that number fills in."""
    person = simulate(number, 1, LESSON)
    notebook = filled_in(nbformat.read(built_path(LESSON), as_version=4), person)
    path = cohort.submitted(who or person.apprentice, LESSON)
    path.parent.mkdir(parents=True, exist_ok=True)
    nbformat.write(notebook, path)
    if stamp:
        (path.parent / "timestamp.txt").write_text(stamp, encoding="utf-8")
    return path


def marked(cohort: Cohort, pool: LocalPool, **options: Any) -> Summary:
    with Book(cohort.book) as book:
        return Marker(cohort, book, NAMES).mark(pool, **options)


def table(cohort: Cohort) -> dict[str, list[Outcome]]:
    with Book(cohort.book) as book:
        found: dict[str, list[Outcome]] = {}
        for mark in all_marks(cohort, book):
            found.setdefault(mark.apprentice, []).append(mark.outcome)
    return found


def test_only_what_is_new_or_changed_is_marked(fresh: Cohort, pool: LocalPool) -> None:
    for number in (1, 2, 3):
        hand_in(fresh, number)
    told: list[tuple[str, int, int]] = []
    assert marked(fresh, pool, tell=lambda *step: told.append(step)).marked == 3
    assert told[-1][1:] == (3, 3)
    before = table(fresh)
    signed = {who for who, outcomes in before.items() if signed_off(outcomes)}
    assert signed
    assert {path.parent.name for path in fresh.folder.glob(f"feedback/*/{SIGNED}")} == signed
    assert (marked(fresh, pool).marked, marked(fresh, pool).unchanged) == (0, 3)
    hand_in(fresh, 7, who="demo-02")
    again = marked(fresh, pool)
    assert (again.marked, again.unchanged) == (1, 2)
    after = table(fresh)
    assert after["demo-01"] == before["demo-01"]
    assert after["demo-02"] != before["demo-02"]
    assert marked(fresh, pool, again=True).marked == 3
    assert table(fresh) == after
    fresh.feedback("demo-03", LESSON).unlink()
    assert marked(fresh, pool).marked == 1
    assert marked(fresh, pool, lesson=LESSON).unchanged == 3
    with pytest.raises(CohortError, match="no lesson"):
        marked(fresh, pool, lesson="99_x")


def test_a_cohort_of_another_version_of_the_lesson_keeps_its_grades_and_is_told(fresh: Cohort, pool: LocalPool) -> None:
    """A question that this release lacks, or with other points, is graded by rules that nobody here was given."""
    hand_in(fresh, 1)
    marked(fresh, pool)
    before = table(fresh)
    released = fresh.released(LESSON)
    notebook = nbformat.read(released, as_version=4)
    graded = [cell for cell in notebook.cells if cell.metadata.get("nbgrader", {}).get("grade")]
    graded[0].metadata["nbgrader"]["points"] += 1
    notebook.cells.remove(graded[1])
    nbformat.write(notebook, released)
    hand_in(fresh, 2)
    summary = marked(fresh, pool, again=True)
    asked = {one.name: one.title for one in sheet(LESSON).questions}
    titles = [asked[cell.metadata["nbgrader"]["grade_id"]] for cell in graded[:2]]
    (said,) = summary.attention
    assert said.startswith(f"{LESSON}: this cohort was set up with another version of the lesson.")
    assert f"Other questions or points: “{titles[0]}”, “{titles[1]}”. Hand-ins left as they are: 2;" in said
    assert summary.marked == 0
    assert table(fresh) == before


def test_the_page_and_the_notebook_are_there_and_nbgrader_reads_them(fresh: Cohort, pool: LocalPool) -> None:
    hand_in(fresh, 1)
    marked(fresh, pool)
    page = fresh.feedback("demo-01", LESSON).read_text(encoding="utf-8")
    assert "Demo &lt;1&gt;" in page
    assert page.count("counts.") >= 10
    ours = book_points(fresh, "demo-01", LESSON)
    fresh.run("generate_feedback", LESSON, "demo-01", force=True)
    assert fresh.feedback("demo-01", LESSON).stat().st_size > 100_000
    fresh.run("autograde", LESSON, "demo-01", force=True)
    assert book_points(fresh, "demo-01", LESSON) == ours


def test_a_mark_given_by_hand_stays(fresh: Cohort, pool: LocalPool) -> None:
    hand_in(fresh, 3)
    marked(fresh, pool)
    change = "update grade set manual_score = 1.5 where rowid = (select min(rowid) from grade)"
    with sqlite3.connect(fresh.folder / "gradebook.db") as book:
        book.execute(change)
    marked(fresh, pool, again=True)
    with sqlite3.connect(fresh.folder / "gradebook.db") as book:
        kept = book.execute("select count(*) from grade where manual_score = 1.5 and needs_manual_grade = 1")
        assert kept.fetchone() == (1,)


def test_odd_things_are_named_and_neighbors_are_marked(fresh: Cohort, pool: LocalPool) -> None:
    hand_in(fresh, 1)
    marked(fresh, pool)
    alone = table(fresh)["demo-01"]
    hand_in(fresh, 2).write_bytes(b'{"cells": [')
    link = hand_in(fresh, 3)
    link.unlink()
    link.symlink_to(fresh.folder / "gradebook.db")
    stolen = nbformat.read(hand_in(fresh, 1, who="demo-04"), as_version=4)
    stolen.metadata["leg_to_leg"] = {"apprentice": "demo-01"}
    nbformat.write(stolen, fresh.submitted("demo-04", LESSON))
    summary = marked(fresh, pool, again=True)
    said = "\n".join(summary.attention)
    assert "demo-02, 03_heater_power: was not graded: it is no notebook, or only a part of one" in said
    assert "demo-03, 03_heater_power: was not graded: it is a link" in said
    assert "demo-04, 03_heater_power: holds answers that were worked out in the kit of demo-01" in said
    now = table(fresh)
    assert set(now) == {"demo-01", "demo-04"}
    assert now["demo-01"] == alone
    assert sum(outcome.points for outcome in now["demo-04"]) < sum(outcome.points for outcome in alone)
    assert "demo-04" in {line.apprentice for line in MarkingCache(fresh.folder).lines() if line.remarks}


def test_a_notebook_that_the_marker_stumbles_over_stops_nobody(
    fresh: Cohort, pool: LocalPool, monkeypatch: pytest.MonkeyPatch
) -> None:
    for number in (1, 2, 3):
        hand_in(fresh, number)
    finish, prepare = Marker.finish, Marker.prepare

    def stumble(self: Marker, desk: Any, run: Any) -> Any:
        if desk.hand_in.apprentice == "demo-01":
            raise AttributeError("nobody foresaw this")
        return finish(self, desk, run)

    def trip(self: Marker, one: Any, *rest: Any) -> Any:
        if one.apprentice == "demo-02":
            raise RecursionError("nor this")
        return prepare(self, one, *rest)

    monkeypatch.setattr(Marker, "finish", stumble)
    monkeypatch.setattr(Marker, "prepare", trip)
    summary = marked(fresh, pool)
    assert summary.marked == 1
    assert sorted(line[:7] for line in summary.attention) == ["demo-01", "demo-02"]
    assert "nobody foresaw this" in "".join(summary.attention)
    assert set(table(fresh)) == {"demo-03"}


def test_lateness_is_in_the_book(fresh: Cohort, pool: LocalPool) -> None:
    from datetime import UTC, datetime

    hand_in(fresh, 1, stamp="2026-05-02 12:00:00 UTC")
    hand_in(fresh, 2, stamp="no time at all")
    with Book(fresh.book) as book:
        book.set_due(LESSON, datetime(2026, 5, 1, 12, 0, tzinfo=UTC).replace(tzinfo=None))
        summary = Marker(fresh, book).mark(pool)
        late = book.seconds_late()
    assert late["demo-01", LESSON] == 86400
    assert late["demo-02", LESSON] == 0
    assert summary.marked == 2
    assert any("demo-02" in line and "time" in line for line in summary.attention)


def test_a_batch_that_fails_leaves_the_book_as_it_was(
    fresh: Cohort, pool: LocalPool, monkeypatch: pytest.MonkeyPatch
) -> None:
    for number in (1, 2):
        hand_in(fresh, number)
    save = Book.save

    def failing(self: Book, entry: Any) -> None:
        save(self, entry)
        if entry.apprentice == "demo-02":
            raise OSError("disk full")

    monkeypatch.setattr(Book, "save", failing)
    with pytest.raises(OSError, match="disk full"):
        marked(fresh, pool)
    assert table(fresh) == {}
    assert not fresh.autograded("demo-01", LESSON).exists()
    monkeypatch.undo()
    assert marked(fresh, pool).marked == 2


KILLER = """
import os, random, signal, sys, time
from pathlib import Path
from legtoleg.cohort import batch_marking
from legtoleg.cohort.marking_run import mark_cohort
import nbgrader.api, nbgrader.preprocessors
folder, seed = Path(sys.argv[1]), int(sys.argv[2])
chance = random.Random(seed)
batch_marking.BATCH = 3
for turn in range(10):
    told, tell = os.pipe()
    child = os.fork()
    if child == 0:
        mark_cohort(folder, again=turn > 4, workers=2, tell=lambda *step: os.write(tell, b'x'))
        os._exit(0)
    os.close(tell)
    os.read(told, 1)
    time.sleep(chance.uniform(0, 1.2))
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    os.close(told)
    print(turn, flush=True)
"""
"""Starts marking ten times and kills it at a random moment after its first step."""


def rows(cohort: Cohort) -> list[Any]:
    asked = """select s.student_id, c.name, g.auto_score, g.needs_manual_grade, s.timestamp from grade g
        join submitted_notebook n on g.notebook_id = n.id join submitted_assignment s on n.assignment_id = s.id
        join base_cell c on g.cell_id = c.id order by 1, 2"""
    comments = """select s.student_id, c.name, m.auto_comment from comment m
        join submitted_notebook n on m.notebook_id = n.id join submitted_assignment s on n.assignment_id = s.id
        join base_cell c on m.cell_id = c.id order by 1, 2"""
    with sqlite3.connect(cohort.folder / "gradebook.db") as book:
        return book.execute(asked).fetchall() + book.execute(comments).fetchall()


ROUNDS = int(os.environ.get("LEGTOLEG_KILL_ROUNDS", "1"))
"""Rounds of ten kills; three of them take some minutes."""


@pytest.mark.parametrize("round_", range(ROUNDS))
def test_kills_at_random_moments_resume_to_the_same_book(
    fresh: Cohort, pool: LocalPool, tmp_path: Path, round_: int
) -> None:
    """Kill ``mark`` ten times in each round; then let it end, and compare with an uninterrupted run."""
    for number in range(1, 9):
        hand_in(fresh, number, stamp=f"2026-05-0{number} 12:00:00 UTC")
    roster = [Person(who, name) for who, name in NAMES.items()]
    (fresh.folder / ROSTER).write_text(roster_text(roster), encoding="utf-8")
    killer = [sys.executable, "-c", KILLER, str(fresh.folder), str(round_)]
    done = subprocess.run(killer, check=True, capture_output=True, text=True, timeout=400)
    assert done.stdout.split() == [str(turn) for turn in range(10)]
    with sqlite3.connect(fresh.folder / "gradebook.db") as book:
        assert book.execute("pragma integrity_check").fetchone() == ("ok",)
    marked(fresh, pool)
    interrupted = rows(fresh)
    pages = {who: fresh.feedback(who, LESSON).read_text() for who in {row[0] for row in interrupted}}
    assert len(pages) == 8
    assert not list(fresh.folder.rglob(".part-*.json"))
    marked(fresh, pool, again=True)
    assert rows(fresh) == interrupted
    assert {who: fresh.feedback(who, LESSON).read_text() for who in pages} == pages
