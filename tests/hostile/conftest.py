"""Hostile hand-ins: one engine for all, an honest neighbor on each side, and what must hold for every kind."""

from __future__ import annotations

import json
import os
import shutil
import time
from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

from dryerbench.answers.tolerance import rounded
from dryerbench.registry import sheet
from legtoleg.authoring.building import built_path
from legtoleg.cohort.batch_marking import Marker
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.gradebook import Book
from legtoleg.cohort.marks import all_marks
from legtoleg.keys.answer_key import worked
from legtoleg.marking.outcomes import Outcome
from legtoleg.sandbox import engine_choice, jail
from legtoleg.sandbox.engine import Limits
from legtoleg.sandbox.thread_pool import LocalPool, local_pool

LESSON = "03_heater_power"
PAPER = sheet(LESSON)
LIMITS = Limits(cell_seconds=2, notebook_seconds=12, megabytes=400)
WAY = "LEGTOLEG_HOSTILE_WAY"
"""Names another way of shutting notebooks in, for the whole corpus: ``NAMESPACES``."""
BOUND = 45
"""Seconds in which a batch with one hostile hand-in has to end, on a busy machine."""

Notebook = dict[str, Any]


def right(who: str) -> dict[str, str]:
    """Return what somebody would type who knows everything."""
    answers = worked(LESSON, PAPER.card(who))
    return {q.name: f"{rounded(answers[q.name], q.figures)} {q.unit}" for q in PAPER.questions}


def honest(who: str, *, but: tuple[str, ...] = ()) -> Notebook:
    """Return a hand-in with every answer right, except that those in ``but`` are left empty."""
    notebook: Notebook = json.loads(built_path(LESSON).read_text(encoding="utf-8"))
    for name, typed in right(who).items():
        if name not in but:
            cell = find(notebook, f"{name}-answer")
            cell["source"] = "".join(cell["source"]).replace('""', f'"{typed}"', 1)
    return notebook


def find(notebook: Notebook, cell_id: str) -> dict[str, Any]:
    """Return a cell by its id."""
    found: dict[str, Any] = next(cell for cell in notebook["cells"] if cell["id"] == cell_id)
    return found


@dataclass
class Day:
    """A marking day: two honest neighbors and one hostile hand-in between them."""

    cohort: Cohort
    pool: LocalPool
    seconds: float = 0.0
    attention: list[str] = field(default_factory=list)
    marks: dict[str, list[Outcome]] = field(default_factory=dict)

    def put(self, who: str, notebook: Notebook | bytes) -> Path:
        """Hand something in."""
        path = self.cohort.submitted(who, LESSON)
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(notebook if isinstance(notebook, bytes) else json.dumps(notebook).encode())
        return path

    def mark(self) -> list[Outcome]:
        """Mark everybody and return the outcomes of ``bo-02``; the neighbors must have all their points."""
        self.put("ada-01", honest("ada-01"))
        self.put("cy-03", honest("cy-03"))
        started = time.monotonic()
        with Book(self.cohort.book) as book:
            summary = Marker(self.cohort, book).mark(self.pool)
            self.attention = summary.attention
            for mark in all_marks(self.cohort, book):
                self.marks.setdefault(mark.apprentice, []).append(mark.outcome)
        self.seconds = time.monotonic() - started
        assert self.seconds < BOUND
        for neighbor in ("ada-01", "cy-03"):
            outcomes = self.marks[neighbor]
            assert len(outcomes) == len(PAPER.questions)
            assert all(outcome.points == outcome.max_points for outcome in outcomes), neighbor
        assert not [line for line in self.attention if line.startswith(("ada-01", "cy-03"))]
        return self.marks.get("bo-02", [])

    def said(self, who: str = "bo-02") -> str:
        """Return what the instructor is told about one person."""
        return "\n".join(line for line in self.attention if line.startswith(who))


@pytest.fixture(scope="session")
def pool() -> Iterator[LocalPool]:
    if not jail.available():
        pytest.skip("bubblewrap is missing on this computer.")
    way = getattr(jail, os.environ.get(WAY, "BUBBLEWRAP"))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(engine_choice, "_ways", lambda: iter([way]))
        stack = ExitStack()
        started = stack.enter_context(local_pool(2, LIMITS))
    with stack:
        assert not started.warning, started.warning
        assert started.how == way.words
        yield started


@pytest.fixture(scope="session")
def empty(tmp_path_factory: pytest.TempPathFactory) -> Cohort:
    return Cohort.make(tmp_path_factory.mktemp("empty") / "cohort", [LESSON])


@pytest.fixture
def day(empty: Cohort, pool: LocalPool, tmp_path: Path) -> Day:
    shutil.copytree(empty.folder, tmp_path / "cohort")
    return Day(Cohort.at(tmp_path / "cohort"), pool)
