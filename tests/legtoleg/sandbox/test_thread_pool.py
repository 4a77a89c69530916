"""Pools: jobs side by side, and at the end no engine left running, whatever happened."""

from __future__ import annotations

import threading
from contextlib import suppress

import pytest

from legtoleg.sandbox import thread_pool
from legtoleg.sandbox.engine import Job, Run
from legtoleg.sandbox.engine_choice import Chosen
from legtoleg.sandbox.thread_pool import local_pool


class Meeting:
    """An engine whose jobs end only once two of them run at the same time."""

    def __init__(self) -> None:
        self.both = threading.Barrier(2)
        self.closed = 0

    def run(self, job: Job) -> Run:
        self.both.wait(timeout=20)
        return Run(ended=job.apprentice)

    def close(self) -> None:
        self.closed += 1


@pytest.fixture
def engine(monkeypatch: pytest.MonkeyPatch) -> Meeting:
    engine = Meeting()
    monkeypatch.setattr(thread_pool, "choose_engine", lambda workers, _limits, **_: Chosen(engine, workers, "careful"))
    return engine


def test_jobs_run_side_by_side(engine: Meeting) -> None:
    with local_pool(2) as pool:
        assert (pool.workers, pool.warning) == (2, "careful")
        runs = [pool.submit(Job(who, "", ())) for who in ("ada", "bo")]
        assert [run.result(timeout=20).ended for run in runs] == ["ada", "bo"]
    assert engine.closed == 1


def test_an_error_leaves_no_engine_and_no_waiting_job(engine: Meeting) -> None:
    waiting = []
    with suppress(ZeroDivisionError), local_pool(1) as pool:
        waiting = [pool.submit(Job("ada", "", ())) for _ in range(3)]
        engine.both.abort()
        raise ZeroDivisionError
    assert engine.closed == 1
    assert all(run.done() for run in waiting)
