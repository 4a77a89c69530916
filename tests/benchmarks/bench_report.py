"""How fast a report is written: 300 people by ten lessons, beside an older version of the course on the same cohort.

    legtoleg try --out TRY
    python tests/benchmarks/bench_report.py TRY --people 300 --old 4c3447f

The marked notebooks of the made-up cohort TRY are taken again and again under other ids; so many people have the same
answers, which is harder on the facts than honest people are. Each version runs in a Python of its own, in turn.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from legtoleg.cohort.cohort_folder import ROSTER, Cohort
from legtoleg.cohort.gradebook import Book
from legtoleg.cohort.gradebook_writes import MarkedNotebook
from legtoleg.cohort.marks import outcomes_in
from legtoleg.core.paths import ROOT
from legtoleg.intake.roster import Person, roster_text

CODE = """
import sys
from pathlib import Path
from legtoleg.cohort.cohort_folder import Cohort
try:
    from legtoleg.report.report_run import write_report
except ImportError:
    from legtoleg.report.report_page import write_report
write_report(Cohort.at(Path(sys.argv[1])))
"""


def grown(source: Path, folder: Path, count: int) -> Path:
    """Return a cohort of ``count`` people in ``folder``, made of the marked hand-ins of the one in ``source``."""
    shutil.copytree(source, folder)
    cohort = Cohort.at(folder)
    first = sorted(path.name for path in (folder / "autograded").iterdir())
    ids = [*first, *(f"more-{number:03d}" for number in range(count - len(first)))]
    (folder / ROSTER).write_text(roster_text([Person(who, f"Demo {who}") for who in ids]), encoding="utf-8")
    with Book(cohort.book) as book, book.batch():
        for place, who in enumerate(ids[len(first) :]):
            model = first[place % len(first)]
            for part in ("autograded", "submitted"):
                shutil.copytree(folder / part / model, folder / part / who)
            for lesson in cohort.lessons():
                points = {one.question: one.points for one in outcomes_in(cohort.autograded(who, lesson))}
                book.save(MarkedNotebook(who, lesson, points, frozenset()))
    return folder


def seconds(folder: Path, course: Path) -> float:
    """Return how long the report takes with the course in ``course``, start of Python and all."""
    path = os.pathsep.join([str(course / "lessons"), str(course / "grader")])
    begin = time.perf_counter()
    subprocess.run([sys.executable, "-c", CODE, str(folder)], check=True, env={**os.environ, "PYTHONPATH": path})
    return time.perf_counter() - begin


def main() -> None:
    """Measure and print."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("cohort", type=Path, help="the folder that “legtoleg try” made")
    options.add_argument("--people", type=int, default=300)
    options.add_argument("--old", default="", help="a commit to measure beside; empty leaves it out")
    options.add_argument("--rounds", type=int, default=2)
    chosen = options.parse_args()
    with tempfile.TemporaryDirectory(prefix="leg-to-leg-bench-") as name:
        folder, old = grown(chosen.cohort, Path(name) / "cohort", chosen.people), Path(name) / "old"
        if chosen.old:
            old.mkdir()
            packed = subprocess.run(["git", "archive", chosen.old], cwd=ROOT, check=True, capture_output=True).stdout
            subprocess.run(["tar", "-x", "-C", str(old)], input=packed, check=True)
        for _ in range(chosen.rounds):
            now = seconds(folder, ROOT)
            print(f"{chosen.people} people: {now:.1f} s", end="", flush=True)
            if chosen.old:
                before = seconds(folder, old)
                print(f", {chosen.old}: {before:.1f} s, ratio {before / now:.1f}", end="")
            print(flush=True)


if __name__ == "__main__":
    main()
