"""How fast a cohort is marked, as ratios in one run: stock nbgrader, ours, and the floor; and where the time goes.

    python tests/benchmarks/bench_marking.py --stock 40 --sizes 40 400 4000 --cluster 400

(a) stock: ``nbgrader autograde`` and ``nbgrader generate_feedback`` with nbgrader's own preprocessors.
(b) ours: ``Marker.mark`` from hand-ins to book, marked notebooks and feedback pages, jailed, the engine warm.
(c) floor: the same cells, one notebook after the other, in one warm process with a plain IPython ``InteractiveShell``:
    nothing isolated, nothing watched, nothing saved. It holds no code of ours but the lessons' own, so that it stays
    where it is while the marker gets better.
(b) and (c) are measured in turn, and the middle ratio is given, because a shared machine is fast and slow by turns.
Processor seconds are those of all processes of this benchmark, counted by a cgroup of its own where one can be made
(as root on Linux); elsewhere those of the whole machine, which must do nothing else meanwhile: a jail's own are not
told to whoever started it. ``--cluster`` marks as many once by threads here and once through a Dask scheduler with as
many workers here.
"""

from __future__ import annotations

import argparse
import atexit
import json
import os
import shutil
import subprocess
import sys
import tempfile
import threading
import time
from collections import Counter
from collections.abc import Iterator
from contextlib import ExitStack, closing, contextmanager, suppress
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
from legtoleg.sandbox.thread_pool import local_pool

STOCK = """
c = get_config()
c.CourseDirectory.course_id = "leg_to_leg"
"""


class OwnGroup:
    """A cgroup for this process and all that it starts, which counts their processor time; none if none can be made."""

    def __init__(self) -> None:
        self.folder, self._back = self._made("cpuacct", "cpuacct.usage") or self._made("", "cpu.stat") or (None, None)

    @staticmethod
    def _made(kind: str, counter: str) -> tuple[Path, Path] | None:
        top = Path("/sys/fs/cgroup", kind)
        folder = top / f"leg-to-leg-bench-{os.getpid()}"
        with suppress(OSError):
            lines = [line.split(":") for line in Path("/proc/self/cgroup").read_text(encoding="ascii").splitlines()]
            mine = next(path for _, kinds, path in lines if kind in kinds.split(","))
            folder.mkdir()
            if (folder / counter).is_file():
                (folder / "cgroup.procs").write_text(str(os.getpid()), encoding="ascii")
                return folder / counter, top / mine.lstrip("/") / "cgroup.procs"
            folder.rmdir()
        return None

    def seconds(self) -> float | None:
        """Return the processor seconds of the group."""
        if self.folder is None:
            return None
        text = self.folder.read_text(encoding="ascii")
        return int(text) / 1e9 if text.strip().isdecimal() else int(text.split()[1]) / 1e6

    def close(self) -> None:
        """Go back to where this process came from."""
        if self.folder is not None and self._back is not None:
            with suppress(OSError):
                self._back.write_text(str(os.getpid()), encoding="ascii")
                self.folder.parent.rmdir()


GROUP = OwnGroup()
atexit.register(GROUP.close)


def processor_seconds() -> float:
    """Return how long the processors have worked for this benchmark, or on this machine in all, in seconds."""
    counted = GROUP.seconds()
    if counted is not None:
        return counted
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
        self._here = threading.local()

    @property
    def _inside(self) -> list[float]:
        """The steps that this thread is in."""
        if not hasattr(self._here, "inside"):
            self._here.inside = [0.0]
        return self._here.inside

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
    (Marker, "prepare", "reading and putting right"),
    (Marker, "finish", "outputs to a notebook"),
    (MarkAnswers, "preprocess", "marking"),
    (batch_marking, "page", "feedback"),
    (Book, "save", "book"),
    (Marker, "save", "writing"),
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


FLOOR = """
import gc, io, json, os, sys
from traitlets.config import Config
from IPython.core.interactiveshell import InteractiveShell

config = Config()
config.HistoryManager.enabled = False
shell = InteractiveShell.instance(config=config)
answer = sys.stdout
for line in sys.stdin:
    for who, cells in json.loads(line):
        os.environ["%s"] = who
        sys.stdout = io.StringIO()
        for cell in cells:
            shell.run_cell(cell)
        shell.reset(new_session=False)
    gc.collect()
    gc.freeze()
    print("done", file=answer, flush=True)
"""
"""A plain shell that runs notebooks one after the other, as often as it is asked; each starts with no names.

What is warm is frozen, so that the emptying, which collects garbage, costs no more than the notebook left.
"""


class Floor:
    """The floor, in a process of its own: it is warm after the first notebook."""

    def __init__(self, name: str) -> None:
        self.name = name
        code = FLOOR % identity.VARIABLE
        self.process = subprocess.Popen([sys.executable, "-c", code], stdin=-1, stdout=-1, text=True)
        self.run(1)

    def run(self, count: int) -> Measured:
        """Run ``count`` notebooks and measure it."""
        lesson = nbformat.read(built_path(self.name), as_version=4)
        people = [simulate(number, 1, self.name) for number in range(1, count + 1)]
        wanted = [
            (who.apprentice, [c.source for c in filled_in(lesson, who).cells if c.cell_type == "code"])
            for who in people
        ]
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        with measured() as result:
            self.process.stdin.write(json.dumps(wanted) + "\n")
            self.process.stdin.flush()
            assert self.process.stdout.readline() == "done\n"
        return result

    def close(self) -> None:
        """End it."""
        self.process.communicate()


def sized(folder: Path, size: int, workers: int, name: str, rounds: int) -> tuple[Measured, Measured]:
    """Measure and print (b) and (c) for ``size`` notebooks, in turn ``rounds`` times; return the middle ones."""
    pairs = []
    with local_pool(workers) as pool, closing(Floor(name)) as floor:
        ours(copied(folder, f"warm-{size}"), 8, pool, name)  # the engine is warm
        for turn in range(rounds):
            before = megabytes("VmRSS")
            mine = ours(copied(folder, f"ours-{size}-{turn}"), size, pool, name)
            steps, peak = CLOCK.words(size, mine.wall), megabytes("VmHWM")
            pairs.append((mine, floor.run(size)))
    pairs.sort(key=lambda pair: pair[0].wall / pair[1].wall)
    result, bottom = pairs[rounds // 2]
    ratios = ", ".join(f"{one.wall / other.wall:.2f}" for one, other in pairs)
    print(f"{size:5} (b) ours  {result.words(size)}, {workers} at once")
    print(f"{size:5} (c) floor {bottom.words(size)}, one plain process")
    worked = ", ".join(f"{one.processor / other.processor:.2f}" for one, other in pairs)
    print(f"      b/c {result.wall / bottom.wall:.2f} wall (of {ratios}),", end=" ")
    print(f"{result.processor / bottom.processor:.2f} processor (of {worked})")
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
