"""A cluster: a scheduler and two workers on this machine, the same marks as without it; and what is said if not."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import nbformat
import pytest

from legtoleg.authoring.building import built_path
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.gradebook import Book
from legtoleg.cohort.marking_run import mark_cohort
from legtoleg.demo.simulated_apprentices import filled_in, simulate
from legtoleg.sandbox import dask_pool
from legtoleg.sandbox.dask_pool import ClusterError, cluster_pool

pytestmark = [pytest.mark.slow, pytest.mark.filterwarnings("ignore")]
LESSON = "03_heater_power"


@pytest.fixture
def scheduler(tmp_path: Path) -> Iterator[str]:
    pytest.importorskip("distributed", reason="The extra “cluster” is not installed.")
    note = tmp_path / "scheduler.json"
    start = [sys.executable, "-m", "distributed.cli."]
    environment = {**os.environ, "DASK_DISTRIBUTED__WORKER__DAEMON": "False"}
    common = ["--scheduler-file", str(note), "--no-dashboard"]
    commands = [[*start[:-1], f"{start[-1]}dask_scheduler", *common, "--host", "127.0.0.1", "--port", "0"]]
    worker = ["--nthreads", "1", "--no-nanny", "--local-directory", str(tmp_path)]
    commands += [[*start[:-1], f"{start[-1]}dask_worker", *common, *worker]] * 2
    running = [
        subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        for command in commands
    ]
    try:
        from distributed import Client

        for _ in range(300):
            if note.is_file():
                break
            time.sleep(0.1)
        with Client(scheduler_file=str(note), timeout="30s") as client:
            client.wait_for_workers(2, timeout=60)
            address = client.scheduler.address
        yield address
    finally:
        for process in reversed(running):
            process.terminate()
        for process in running:
            try:
                process.wait(30)
            except subprocess.TimeoutExpired:
                process.kill()
                process.wait(30)


def hand_in(cohort: Cohort) -> None:
    for number in range(1, 6):
        person = simulate(number, 1, LESSON)
        path = cohort.submitted(person.apprentice, LESSON)
        path.parent.mkdir(parents=True, exist_ok=True)
        nbformat.write(filled_in(nbformat.read(built_path(LESSON), as_version=4), person), path)


@pytest.mark.server
def test_the_cluster_marks_the_same(scheduler: str, fresh: Cohort) -> None:
    hand_in(fresh)
    warned: list[str] = []
    summary = mark_cohort(fresh.folder, scheduler=scheduler, warn=warned.append)
    assert (summary.marked, warned) == (5, [])
    with Book(fresh.book) as book:
        there = book.points()
    assert mark_cohort(fresh.folder, again=True).marked == 5
    with Book(fresh.book) as book:
        assert book.points() == there
    assert len(there) == 5
    from distributed import Client

    with Client(scheduler) as client:
        jobs = client.run(lambda: dask_pool._HERE.chosen is not None)
        assert list(jobs.values()) == [True, True]


def test_nobody_answers(monkeypatch: pytest.MonkeyPatch) -> None:
    pytest.importorskip("distributed", reason="The extra “cluster” is not installed.")
    monkeypatch.setattr(dask_pool, "ANSWERS_WITHIN", 1.0)
    with pytest.raises(ClusterError, match="No Dask scheduler answers"), cluster_pool("tcp://127.0.0.1:9"):
        pass
    with pytest.raises(ClusterError, match="No Dask scheduler answers"), cluster_pool("what?"):
        pass
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(ClusterError, match="pip install"), cluster_pool("tcp://127.0.0.1:9"):
        pass
