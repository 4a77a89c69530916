"""How fast a cohort is marked, as ratios in one run: stock nbgrader, ours, and the floor; and where the time goes.

    python tests/benchmarks/bench_marking.py --stock 40 --sizes 40 400 4000 --cluster 400

(a) stock: ``nbgrader autograde`` and ``nbgrader generate_feedback`` with nbgrader's own preprocessors.
(b) ours: ``Marker.mark`` from hand-ins to book, marked notebooks and feedback pages, jailed, the engine warm.
(c) floor: the same cells, one notebook after the other, in one warm process, nothing isolated, nothing saved.
(b) and (c) are measured in turn, and the middle ratio is given, because a shared machine is fast and slow by turns.
Processor seconds are those of the whole machine, which must do nothing else meanwhile: a jail's own are not told to
whoever started it. ``--cluster`` marks as many once by threads here and once through a Dask scheduler with as many
workers here.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path
from typing import Any

import nbformat
import psutil

from dryerbench.core import identity
from dryerbench.drawing import interactive_figure
from legtoleg.authoring.building import built_path
from legtoleg.cohort import batch_marking
from legtoleg.cohort.batch_marking import Marker, Pool, cores
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.gradebook import Book
from legtoleg.cohort.nbgrader_steps import MarkAnswers
from legtoleg.demo.simulated_apprentices import filled_in, simulate
from legtoleg.sandbox.dask_pool import cluster_pool
from legtoleg.sandbox.engine import Job
from legtoleg.sandbox.thread_pool import local_pool
from legtoleg.sandbox.worker.shell import make_shell, run_cells

STOCK = """
c = get_config()
c.CourseDirectory.course_id = "leg_to_leg"
"""


def processor_seconds() -> float:
    """Return how long this machine's processors have worked since it started, in seconds."""
    return sum(getattr(psutil.cpu_times(), kind, 0.0) for kind in ("user", "nice", "system", "irq", "softirq"))


class Measured:
    """Wall and processor seconds of a piece of work."""

    def __init__(self) -> None:
        self.wall = self.processor = 0.0

    def words(self, count: int) -> str:
        """Return both for one of ``count`` notebooks, in milliseconds."""
        return f"{1000 * self.wall / count:8.1f} ms wall {1000 * self.processor / count:8.1f} ms processor a notebook"


@contextmanager
def measured() -> Iterator[Measured]:
    """Measure what happens inside."""
    result = Measured()
    wall, processor = time.perf_counter(), processor_seconds()
    yield result
    result.wall, result.processor = time.perf_counter() - wall, processor_seconds() - processor


def hand_in(cohort: Cohort, count: int, name: str) -> None:
    """Hand in ``count`` made-up notebooks, each with answers of its own machine."""
    lesson = nbformat.read(built_path(name), as_version=4)
    for number in range(1, count + 1):
        person = simulate(number, 1, name)
        path = cohort.submitted(person.apprentice, name)
        path.parent.mkdir(parents=True, exist_ok=True)
        nbformat.write(filled_in(lesson, person), path)


def stock(folder: Path, count: int, name: str) -> Measured:
    """Mark with nbgrader's own commands and settings."""
    cohort = Cohort.at(folder)
    hand_in(cohort, count, name)
    (folder / "nbgrader_config.py").write_text(STOCK, encoding="utf-8")
    here = str(Path(sys.executable).parent)
    environment = {**os.environ, "PATH": os.pathsep.join([here, os.environ["PATH"]]), interactive_figure.MODE: "words"}
    with measured() as result:
        for step in ("autograde", "generate_feedback"):
            command = [sys.executable, "-m", "nbgrader", step, name]
            subprocess.run(command, cwd=folder, env=environment, check=True, capture_output=True)
    marked = len(list((folder / "feedback").glob("*/*/*.html")))
    assert marked == count, f"{marked} of {count}"
    return result


class Clock:
    """Notes how long the marker's own thread spends in each of its steps, a step within a step counted once."""

    def __init__(self) -> None:
        self.spent: Counter[str] = Counter()
        self._inside = [0.0]

    def watch(self, owner: Any, name: str, step: str) -> None:
        """Note from now on the time in ``owner``'s function ``name`` as ``step``."""
        inner = getattr(owner, name)

        def run(*args: Any, **more: Any) -> Any:
            started = time.perf_counter()
            self._inside.append(0.0)
            try:
                return inner(*args, **more)
            finally:
                whole = time.perf_counter() - started
                self.spent[step] += whole - self._inside.pop()  # type: ignore[assignment]
                self._inside[-1] += whole

        setattr(owner, name, run)

    def words(self, count: int, wall: float) -> str:
        """Return the milliseconds a notebook of each step, and what is left of ``wall`` seconds."""
        steps = {**self.spent, "the rest": wall - sum(self.spent.values())}
        return ", ".join(f"{name} {1000 * seconds / count:.1f}" for name, seconds in steps.items())


CLOCK = Clock()
for _owner, _name, _step in (
    (batch_marking, "wait", "waiting for notebooks to run"),
    (Marker, "_prepare", "reading and putting right"),
    (Marker, "_finish", "outputs to a notebook"),
    (MarkAnswers, "preprocess", "marking"),
    (batch_marking, "page", "feedback"),
    (Book, "save", "book"),
    (Marker, "_save", "writing"),
):
    CLOCK.watch(_owner, _name, _step)


def reset_peak() -> None:
    """Start the peak of this process's memory anew, where Linux allows it."""
    with suppress(OSError):
        Path("/proc/self/clear_refs").write_text("5", encoding="ascii")


def megabytes(which: str) -> float:
    """Return this process's memory, now (``VmRSS``) or its peak since ``reset_peak`` (``VmHWM``); 0 without Linux."""
    with suppress(OSError, StopIteration):
        lines = Path("/proc/self/status").read_text(encoding="ascii").splitlines()
        return int(next(line for line in lines if line.startswith(which)).split()[1]) / 1024
    return 0.0


def copied(folder: Path, name: str) -> Path:
    """Return a fresh copy of the empty cohort in ``folder``."""
    return Path(shutil.copytree(folder / "empty", folder / name))


def ours(folder: Path, count: int, pool: Pool, name: str) -> Measured:
    """Mark with this course's own marker."""
    cohort = Cohort.at(folder)
    hand_in(cohort, count, name)
    CLOCK.spent.clear()
    reset_peak()
    with Book(cohort.book) as book, measured() as result:
        summary = Marker(cohort, book).mark(pool)
    assert summary.marked == count, summary
    return result


def floor(count: int, name: str) -> Measured:
    """Run the same cells in this process, one notebook after the other."""
    lesson = nbformat.read(built_path(name), as_version=4)
    notebooks = [filled_in(lesson, simulate(number, 1, name)) for number in range(1, count + 1)]
    shell, out, err = make_shell(200_000), sys.stdout, sys.stderr
    run_cells(shell, [c.source for c in notebooks[0].cells if c.cell_type == "code"], 20, lambda *_: None)
    with measured() as result:
        for number, notebook in enumerate(notebooks, 1):
            os.environ[identity.VARIABLE] = f"demo-{number:02d}"
            run_cells(shell, [cell.source for cell in notebook.cells if cell.cell_type == "code"], 20, lambda *_: None)
    sys.stdout, sys.stderr = out, err
    return result


def sized(folder: Path, size: int, workers: int, name: str, rounds: int) -> tuple[Measured, Measured]:
    """Measure and print (b) and (c) for ``size`` notebooks, in turn ``rounds`` times; return the middle ones."""
    pairs = []
    with local_pool(workers) as pool:
        pool.submit(Job("practice", name, ("1",))).result()  # the engine is warm
        for turn in range(rounds):
            before = megabytes("VmRSS")
            mine = ours(copied(folder, f"ours-{size}-{turn}"), size, pool, name)
            steps, peak = CLOCK.words(size, mine.wall), megabytes("VmHWM")
            pairs.append((mine, floor(size, name)))
    pairs.sort(key=lambda pair: pair[0].wall / pair[1].wall)
    result, bottom = pairs[rounds // 2]
    ratios = ", ".join(f"{one.wall / other.wall:.2f}" for one, other in pairs)
    print(f"{size:5} (b) ours  {result.words(size)}, {workers} at once")
    print(f"{size:5} (c) floor {bottom.words(size)}, one process")
    print(f"      b/c {result.wall / bottom.wall:.2f} wall (of {ratios}),", end=" ")
    print(f"{result.processor / bottom.processor:.2f} processor")
    print(f"      in the marker, last round, ms a notebook: {steps}")
    print(f"      peak memory of the marker {peak:.0f} MB, {before:.0f} MB before that round", flush=True)
    return result, bottom


def clustered(folder: Path, size: int, workers: int, lesson: str) -> None:
    """Mark ``size`` notebooks once here and once through a Dask cluster of as many workers here, and compare."""
    from distributed import LocalCluster  # an optional extra

    times = {}
    for name in ("local", "cluster"):
        place = copied(folder, f"{name}-{size}")
        with ExitStack() as stack:
            if name == "local":
                begin = time.perf_counter()
                pool: Any = stack.enter_context(local_pool(workers))
            else:
                options = {"n_workers": workers, "threads_per_worker": 1, "processes": True, "dashboard_address": None}
                cluster = stack.enter_context(LocalCluster(**options))
                begin = time.perf_counter()
                pool = stack.enter_context(cluster_pool(cluster.scheduler_address))
            started = time.perf_counter() - begin
            result = ours(place, size, pool, lesson)
        own = result.wall - CLOCK.spent["waiting for notebooks to run"]
        print(f"{size:5} {name:8}{1000 * result.wall / size:7.1f} ms wall a notebook after a start of {started:.1f} s;")
        print(f"      of it the marker's own {1000 * own / size:.1f} ms, which more workers do not shorten")
        times[name] = result.wall
    print(f"      cluster/local {times['cluster'] / times['local']:.2f} with {workers} workers each", flush=True)


def against_stock(folder: Path, count: int, fast: Measured, size: int, name: str) -> None:
    """Measure and print (a) for ``count`` notebooks, and its ratio to ``fast`` for ``size``."""
    slow = stock(copied(folder, "stock"), count, name)
    print(f"{count:5} (a) stock {slow.words(count)}")
    each = (slow.wall / count) / (fast.wall / size)
    print(f"      a/b {each:.1f} wall, {slow.processor / count / (fast.processor / size):.1f} processor")


def main() -> None:
    """Measure and print."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--stock", type=int, default=40, help="notebooks for (a); 0 leaves it out")
    options.add_argument("--sizes", type=int, nargs="+", default=[40, 400], help="notebooks for (b) and (c)")
    options.add_argument("--rounds", type=int, default=3, help="how often (b) and (c) are measured in turn")
    options.add_argument("--cluster", type=int, default=0, help="notebooks for the cluster; 0 leaves it out")
    options.add_argument("--workers", type=int, default=cores())
    options.add_argument("--lesson", default="03_heater_power")
    chosen = options.parse_args()
    os.environ[interactive_figure.MODE] = "words"
    with tempfile.TemporaryDirectory(prefix="leg-to-leg-bench-") as name:
        folder, lesson = Path(name), chosen.lesson
        Cohort.make(folder / "empty", [lesson])
        found = [sized(folder, size, chosen.workers, lesson, chosen.rounds) for size in chosen.sizes]
        if chosen.stock:
            against_stock(folder, chosen.stock, found[0][0], chosen.sizes[0], lesson)
        if chosen.cluster:
            clustered(folder, chosen.cluster, chosen.workers, lesson)


if __name__ == "__main__":
    main()
