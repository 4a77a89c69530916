"""How long each lesson takes to run: in a kernel of its own with live figures, and by nbval. Run by hand:

OPENBLAS_NUM_THREADS=1 python tests/benchmarks/bench_lessons.py

Wall seconds, and the seconds of processor time that all its processes used (what a busy machine cannot blur).
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import nbformat
from nbclient import NotebookClient

from legtoleg.authoring.building import built_path
from legtoleg.core.paths import lesson_names


def spent(act: Callable[[], object]) -> tuple[float, float]:
    """Return the wall seconds of ``act`` and the processor seconds of the processes that it started."""
    begun, before = time.perf_counter(), os.times()
    act()
    after = os.times()
    used = after.children_user + after.children_system - before.children_user - before.children_system
    return time.perf_counter() - begun, used


def run(path: Path) -> None:
    """Run a notebook in a kernel of its own, as a page does."""
    NotebookClient(nbformat.read(path, as_version=4), kernel_name="python3").execute(stderr=subprocess.DEVNULL)


def nbval(path: Path) -> None:
    """Run a notebook by nbval."""
    command = [sys.executable, "-m", "pytest", "--nbval-lax", "-q", "-p", "no:cacheprovider", str(path)]
    subprocess.run(command, check=True, capture_output=True, cwd=path.parent)


def main() -> None:
    """Print a line for each lesson."""
    os.environ["LEGTOLEG_APPRENTICE"] = "demo-02"
    with tempfile.TemporaryDirectory() as folder:
        for lesson in lesson_names():
            path = Path(folder) / f"{lesson}.ipynb"
            path.write_bytes(built_path(lesson).read_bytes())
            wall, used = spent(lambda path=path: run(path))
            by_nbval, used_by_nbval = spent(lambda path=path: nbval(path))
            print(f"{lesson:24} {wall:5.1f} s ({used:4.1f} cpu)   nbval {by_nbval:5.1f} s ({used_by_nbval:4.1f} cpu)")


if __name__ == "__main__":
    main()
