"""What a seat takes that ran a whole lesson: MiB of its own, as a fork of the parent that has loaded everything.

    python tests/benchmarks/bench_seats.py [LESSON ...]

Each lesson's cells run, figures and benches live, in a fork of its own, as in a class's seat. What is written there
is the seat's own memory; what is only read stays shared. The server of a seat comes on top (see ``bench_class.py``).
"""

from __future__ import annotations

import gc
import os
import sys
import tempfile
from pathlib import Path

import nbformat

from dryerbench.core import identity
from dryerbench.registry import SHEETS
from legtoleg.classroom.seat_jail import GIVES_BACK
from legtoleg.classroom.warm_seats import warming
from legtoleg.core.paths import ROOT


def own() -> float:
    """Return the MiB that this process alone holds."""
    lines = Path("/proc/self/smaps_rollup").read_text(encoding="ascii").splitlines()
    return sum(int(line.split()[1]) for line in lines if line.startswith(("Private_Dirty:", "Private_Clean:"))) / 1024


def run(lesson: str) -> None:
    """Run the cells of ``lesson`` in this process, and print what it then holds."""
    from IPython.core.interactiveshell import InteractiveShell
    from IPython.utils.capture import capture_output

    gc.enable()
    shell = InteractiveShell.instance()
    shell.history_manager.enabled = False
    failed = 0
    with tempfile.TemporaryDirectory() as folder, capture_output():
        os.chdir(folder)
        os.environ[identity.VARIABLE] = "demo-02"
        for cell in nbformat.read(ROOT / "lessons" / lesson / f"{lesson}.ipynb", as_version=4).cells:
            if cell.cell_type == "code":
                failed += not shell.run_cell(cell.source, store_history=False).success
    print(f"{lesson:24}{own():6.0f} MiB" + (f", {failed} cells failed" if failed else ""), flush=True)


def main() -> None:
    """Print a line for each lesson."""
    if not os.environ.keys() >= GIVES_BACK.keys():  # the C library reads them when a process begins
        os.execve(sys.executable, [sys.executable, *sys.argv], {**os.environ, **GIVES_BACK})
    warming.load()
    warming.rehearse()
    warming.settle()
    for lesson in sys.argv[1:] or SHEETS:
        child = os.fork()
        if not child:
            run(lesson)
            os._exit(0)
        os.waitpid(child, 0)


if __name__ == "__main__":
    main()
