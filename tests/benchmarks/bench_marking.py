"""How fast a cohort is marked, as ratios in one run: stock nbgrader, ours, and the floor; and where the time goes.

    python tests/benchmarks/bench_marking.py --stock 40 --sizes 40 400

(a) stock: ``nbgrader autograde`` and ``nbgrader generate_feedback`` with nbgrader's own preprocessors.
(b) ours: ``Marker.mark`` from hand-ins to book, marked notebooks and feedback pages, jailed, the engine warm.
(c) floor: the same cells, one notebook after the other, in one warm process, nothing isolated, nothing saved.
Processor seconds are those of the process and all that it started and waited for.
"""

from __future__ import annotations

import argparse
import os
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, ClassVar

import nbformat

from dryerbench import explorers, kits
from grader.books import Book
from grader.booth.shell import make_shell, run_cells
from grader.building import built_path
from grader.cohorts import Cohort
from grader.desk import Marker, cores
from grader.pools import LocalPool, local_pool
from grader.simulated import filled_in, simulate

LESSON = "03_heater_power"
STOCK = """
c = get_config()
c.CourseDirectory.course_id = "leg_to_leg"
"""


def processor_seconds() -> float:
    """Return the processor time of this process and of what it waited for."""
    used = (resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(one.ru_utime + one.ru_stime for one in used)


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


def hand_in(cohort: Cohort, count: int) -> None:
    """Hand in ``count`` made-up notebooks, each with answers of its own machine."""
    lesson = nbformat.read(built_path(LESSON), as_version=4)
    for number in range(1, count + 1):
        person = simulate(number, 1, LESSON)
        path = cohort.submitted(person.apprentice, LESSON)
        path.parent.mkdir(parents=True, exist_ok=True)
        nbformat.write(filled_in(lesson, person), path)


def stock(folder: Path, count: int) -> Measured:
    """Mark with nbgrader's own commands and settings."""
    cohort = Cohort.at(folder)
    hand_in(cohort, count)
    (folder / "nbgrader_config.py").write_text(STOCK, encoding="utf-8")
    here = str(Path(sys.executable).parent)
    environment = {**os.environ, "PATH": os.pathsep.join([here, os.environ["PATH"]]), explorers.MODE: "words"}
    with measured() as result:
        for step in ("autograde", "generate_feedback"):
            command = [sys.executable, "-m", "nbgrader", step, LESSON]
            subprocess.run(command, cwd=folder, env=environment, check=True, capture_output=True)
    marked = len(list((folder / "feedback").glob("*/*/*.html")))
    assert marked == count, f"{marked} of {count}"
    return result


class Timed(Marker):
    """A marker that notes how long each of its own steps takes."""

    spent: ClassVar[Counter[str]] = Counter()


def _timed(name: str, method: Any) -> Any:
    def run(self: Timed, *args: Any) -> Any:
        started = time.perf_counter()
        try:
            return method(self, *args)
        finally:
            self.spent[name] += time.perf_counter() - started  # type: ignore[assignment]

    return run


for _name, _step in (("_prepare", "read and put right"), ("_finish", "judge and page"), ("_save", "book and files")):
    setattr(Timed, _name, _timed(_step, getattr(Marker, _name)))


def ours(folder: Path, count: int, pool: LocalPool) -> Measured:
    """Mark with this course's own marker."""
    cohort = Cohort.at(folder)
    hand_in(cohort, count)
    Timed.spent.clear()
    with Book(cohort.book) as book, measured() as result:
        summary = Timed(cohort, book).mark(pool)
    assert summary.marked == count, summary
    return result


def floor(count: int) -> Measured:
    """Run the same cells in this process, one notebook after the other."""
    lesson = nbformat.read(built_path(LESSON), as_version=4)
    notebooks = [filled_in(lesson, simulate(number, 1, LESSON)) for number in range(1, count + 1)]
    shell, out, err = make_shell(200_000), sys.stdout, sys.stderr
    run_cells(shell, [c.source for c in notebooks[0].cells if c.cell_type == "code"], 20, lambda *_: None)
    with measured() as result:
        for number, notebook in enumerate(notebooks, 1):
            os.environ[kits.VARIABLE] = f"demo-{number:02d}"
            run_cells(shell, [cell.source for cell in notebook.cells if cell.cell_type == "code"], 20, lambda *_: None)
    sys.stdout, sys.stderr = out, err
    return result


def main() -> None:
    """Measure and print."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--stock", type=int, default=40, help="notebooks for (a); 0 leaves it out")
    options.add_argument("--sizes", type=int, nargs="+", default=[40, 400], help="notebooks for (b) and (c)")
    options.add_argument("--workers", type=int, default=cores())
    chosen = options.parse_args()
    os.environ[explorers.MODE] = "words"
    with tempfile.TemporaryDirectory(prefix="leg-to-leg-bench-") as folder:
        empty = Cohort.make(Path(folder) / "empty", [LESSON]).folder
        first: dict[str, Measured] = {}
        for size in chosen.sizes:
            place = Path(folder) / f"ours-{size}"
            shutil.copytree(empty, place)
            # The engine is measured with its start and its end, so that its children's time is counted.
            with measured() as whole, local_pool(chosen.workers) as pool:
                result = ours(place, size, pool)
            result.processor = whole.processor
            bottom = floor(size)
            first.setdefault("ours", result)
            first.setdefault("floor", bottom)
            print(f"{size:5} (b) ours  {result.words(size)}, {chosen.workers} at once")
            print(f"{size:5} (c) floor {bottom.words(size)}, one process")
            print(
                f"      b/c {result.wall / bottom.wall:.2f} wall, {result.processor / bottom.processor:.2f} processor"
            )
            steps = ", ".join(f"{name} {1000 * spent / size:.1f}" for name, spent in Timed.spent.items())
            peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
            print(f"      in the marker, ms a notebook: {steps}; peak memory {peak:.0f} MB", flush=True)
        if chosen.stock:
            place = Path(folder) / "stock"
            shutil.copytree(empty, place)
            slow = stock(place, chosen.stock)
            fast = first["ours"]
            size = chosen.sizes[0]
            print(f"{chosen.stock:5} (a) stock {slow.words(chosen.stock)}")
            each = (slow.wall / chosen.stock) / (fast.wall / size)
            print(f"      a/b {each:.1f} wall, {slow.processor / chosen.stock / (fast.processor / size):.1f} processor")


if __name__ == "__main__":
    main()
