"""How long a move on the bench takes in the kernel, heat included, and how much of it is the panel that shows it.

    OPENBLAS_NUM_THREADS=1 python tests/benchmarks/bench_move.py --old 679f230

One job on each machine, as a page sends it: heat, runs, a stop, dead and open, readings, a wire. First on a machine
that this Python has not seen, then once more. ``--old``: the same job on the lessons' dryer of an older version of the
course, in a Python of its own, in turn. Where the ``--old`` bench had one drawing, no other machine, no heat that
follows and no judging of the state after each act, it did less.
"""

from __future__ import annotations

import argparse
import json
import os
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

from legtoleg.core.paths import ROOT

MACHINES = ("", "porch", "alcove")
"""The lessons' dryer; one coil and a board; three coils, a dial and a three-wire cord."""
CODE = """
import json, sys, time

def job(panel, pairs, key, wire):
    yield from (("ask_heat", {"heat": "high"}), ("press_start", {}))
    yield from [("let_run", {})] * 3
    for act in ("stop", "unplug", "prove_meter"):
        yield act, {}
    yield "test_dead", {"where": "plug"}
    for act in ("prove_meter", "cover_off", "prove_meter"):
        yield act, {}
    yield "test_dead", {"where": "block"}
    yield "set_dial", {"mode": "ohms"}
    for a, b in pairs:
        yield "place", {"probe": "A", key: a}
        yield "place", {"probe": "B", key: b}
    yield "pull_wire", {"wire": wire}
    for a, b in pairs:
        yield "place", {"probe": "A", key: a}
        yield "place", {"probe": "B", key: b}
    yield "put_back_wire", {"wire": wire}

def measured(panel, acts):
    shown = []
    name = "_refresh" if hasattr(panel, "_refresh") else "refresh"
    refresh = getattr(panel, name)
    def timed(**said):
        begun = time.perf_counter()
        refresh(**said)
        shown.append(1000.0 * (time.perf_counter() - begun))
    setattr(panel, name, timed)
    for act, given in acts:
        begun = time.perf_counter()
        panel.receive({"act": act, "with": given})
        spent = 1000.0 * (time.perf_counter() - begun)
        if not panel.view["refused"]:
            yield act, spent, shown[-1]

PAIRS = (("L1", "L2"), ("L1", "case"), ("L2", "case"), ("N", "case"))

def now(name):
    from dryerbench.bench.access import pullable
    from dryerbench.bench.bench import Bench
    from dryerbench.bench.machine import Machine, on_the_bench
    from dryerbench.core.random_stream import Stream
    from dryerbench.family.machine import drawn_machine
    from dryerbench.family.shelf import arrangement
    from dryerbench.notebook.machine_panel import MachinePanel
    machine = on_the_bench(drawn_machine(arrangement(name), Stream(name), "practice")) if name else Machine()
    panel = MachinePanel(Bench(machine))
    pairs = [(panel.desk.names.spot_of[a], panel.desk.names.spot_of[b]) for a, b in PAIRS]
    return measured(panel, job(panel, pairs, "spot", pullable(machine)[0]))

def then(_):
    from dryerbench.bench import Bench
    from dryerbench.panel import BenchPanel
    panel = BenchPanel(Bench())
    return measured(panel, job(panel, PAIRS, "point", "wire T1"))

one = {"now": now, "then": then}[sys.argv[1]]
print(json.dumps([list(one(sys.argv[2])) for _ in range(2)]))
"""
Moves = list[tuple[str, float, float]]


def moves(course: Path, which: str, name: str) -> list[Moves]:
    """Return act, milliseconds, and those of showing it, for the first and the second time of one job."""
    path = os.pathsep.join([str(course / "lessons"), str(course / "grader")])
    command = [sys.executable, "-c", CODE, which, name]
    done = subprocess.run(
        command, check=True, env={**os.environ, "PYTHONPATH": path}, cwd=course, capture_output=True, text=True
    )
    found: list[Moves] = json.loads(done.stdout)
    return found


def told(title: str, found: Moves) -> None:
    """Print a line: median, 95th of a hundred and the slowest, and the median of showing it."""
    spent = sorted(one[1] for one in found)
    high = statistics.quantiles(spent, n=20)[-1]
    slowest = max(found, key=lambda one: one[1])
    shown = statistics.median(one[2] for one in found)
    print(
        f"{title:34} {len(found):3} acts: median {statistics.median(spent):6.1f} ms, 95th {high:6.1f} ms, "
        f"slowest {slowest[1]:6.1f} ms ({slowest[0]}); showing it {shown:5.1f} ms",
        flush=True,
    )


def main() -> None:
    """Measure and print."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--old", default="", help="a commit to measure beside; empty leaves it out")
    options.add_argument("--rounds", type=int, default=3)
    chosen = options.parse_args()
    with tempfile.TemporaryDirectory(prefix="leg-to-leg-bench-") as name:
        old = Path(name)
        if chosen.old:
            packed = subprocess.run(["git", "archive", chosen.old], cwd=ROOT, check=True, capture_output=True).stdout
            subprocess.run(["tar", "-x", "-C", str(old)], input=packed, check=True)
        found: dict[str, list[Moves]] = {}
        for _ in range(chosen.rounds):
            for machine in MACHINES:
                found.setdefault(machine or "the lessons' dryer", []).extend(moves(ROOT, "now", machine))
            if chosen.old:
                found.setdefault(f"the lessons' dryer, {chosen.old}", []).extend(moves(old, "then", ""))
    for title, runs in found.items():
        told(f"{title}, first time", [one for run in runs[::2] for one in run])
        told(f"{title}, again", [one for run in runs[1::2] for one in run])


if __name__ == "__main__":
    main()
