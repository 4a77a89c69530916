"""A class under load on this computer alone: seats by real kernel websockets, moves on the bench, kills, hand-ins.

    python tests/benchmarks/bench_class.py 40

Prints memory a seat (PSS, all processes of all seats), how long seats take to open, a move's median and 95th
percentile, and how many hand-ins were lost while hub, door and service were killed. As root, with bubblewrap.
"""

from __future__ import annotations

import asyncio
import hashlib
import importlib.util
import json
import os
import random
import signal
import socket
import statistics
import sys
import tempfile
import time
from pathlib import Path
from types import ModuleType
from typing import Any

from legtoleg.classroom.supervisor import seats_of
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.cohort_setup import set_up
from legtoleg.core.files import write_whole

NEW = "meter-7-leads"
BEGIN = """
import time, json, hashlib
from dryerbench import *
from dryerbench.bench.bench import Bench
from dryerbench.diagnosis.service_calls import deal_call
from dryerbench.notebook.panel import BenchPanel
from dryerbench.notebook.class_link import class_link
job_card('03_heater_power')
panel = BenchPanel(deal_call({call}).bench)
content = open('03_heater_power.ipynb', 'rb').read()
panel.receive({{'act': 'unplug', 'with': {{}}}})
panel.receive({{'act': 'cover_off', 'with': {{}}}})
panel.receive({{'act': 'set_dial', 'with': {{'mode': 'ohms', 'full_scale': None}}}})
print('ready')
"""
MOVE = "panel.receive({'act': 'probe', 'with': {'a': 'T0', 'b': 'T1'}})"
GIVE = "r = class_link().hand_in('03_heater_power', content + b' ' * %d); print(r.sha256)"


def beside(path: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location(path.stem, path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[path.stem] = module
    spec.loader.exec_module(module)
    return module


def pss(pid: int, *, alone: bool = False) -> int:
    """Return the kilobytes of a process, and of all that it started unless it is taken ``alone``."""
    found = 0
    try:
        for line in Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines():
            found += int(line.split()[1]) if line.startswith("Pss:") else 0
        children = Path(f"/proc/{pid}/task/{pid}/children").read_text().split()
    except OSError:
        return found
    return found if alone else found + sum(pss(int(one)) for one in children)


async def work_at(visitor: Any, number: int, moves: int, pause: float, times: list[float], given: list[str]) -> None:
    """Move the bench now and then, and hand in twice."""
    chance = random.Random(number)
    for move in range(moves):
        await asyncio.sleep(chance.uniform(0, 2 * pause))
        begun = time.perf_counter()
        await visitor.run(MOVE)
        times.append(time.perf_counter() - begun)
        if move in (moves // 3, 2 * moves // 3):
            said = await visitor.run(GIVE % move)
            given.append(said.strip().splitlines()[-1])


async def killing(running: Any, kills: list[str], every: float) -> None:
    for name in kills:
        await asyncio.sleep(every)
        os.kill(running.pid_of(name), signal.SIGKILL)
        print(f"  killed the {name}")


async def measured(running: Any, people: list[str], moves: int, pause: float, kills: list[str]) -> bool:
    visitors = [running.visitor(who) for who in people]
    begun = time.monotonic()
    for visitor in visitors:
        status, words = await visitor.log_in(running.codes[visitor.who], NEW)
        assert status == 302, words
    print(f"logged in one after the other: {time.monotonic() - begun:.1f} s")
    begun = time.monotonic()
    await asyncio.gather(*(visitor.open_seat(600) for visitor in visitors))
    print(f"all {len(people)} seats up: {time.monotonic() - begun:.1f} s")
    begun = time.monotonic()
    await asyncio.gather(*(visitor.open_kernel() for visitor in visitors))
    ready = await asyncio.gather(*(visitor.run(BEGIN.format(call=n + 1), 600) for n, visitor in enumerate(visitors)))
    assert all("ready" in one for one in ready), ready[0]
    print(f"all kernels with an open bench: {time.monotonic() - begun:.1f} s")
    sizes = [pss(seat.pid) / 1024 for seat in seats_of(running.room)]
    siblings = {name: round(pss(running.pid_of(name), alone=True) / 1024) for name in ("door", "hub", "service", "warm")}
    print(f"memory (PSS): {statistics.mean(sizes):.0f} MiB a seat, {sum(sizes):.0f} in all; {siblings}")
    times: list[float] = []
    given: list[str] = []
    work = [work_at(visitor, n, moves, pause, times, given) for n, visitor in enumerate(visitors)]
    results = await asyncio.gather(
        killing(running, kills, moves * pause / (len(kills) + 1)), *work, return_exceptions=True
    )
    broken = [one for one in results if isinstance(one, BaseException)]
    print(f"{len(times)} moves: {told(times)}; {len(broken)} seats lost their websocket")
    print(f"hand-ins with a receipt: {len(given)}, lost: {lost(running, given)}")
    return lost(running, given) == 0


def told(times: list[float]) -> str:
    ordered = sorted(times)
    middle, high = statistics.median(ordered), ordered[int(0.95 * (len(ordered) - 1))]
    return f"median {1000 * middle:.1f} ms, 95th {1000 * high:.1f} ms, longest {1000 * ordered[-1]:.0f} ms"


def lost(running: Any, given: list[str]) -> int:
    kept = {hashlib.sha256(path.read_bytes()).hexdigest() for path in (running.folder / "received").glob("*/*.ipynb")}
    return sum(mark not in kept for mark in given)


def main() -> int:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 40
    moves, pause = 30, float(sys.argv[2]) if len(sys.argv) > 2 else 2.0
    shared = beside(Path(__file__).parents[1] / "legtoleg" / "classroom" / "conftest.py")
    people = [f"demo-{number:02d}" for number in range(1, count + 1)]
    with tempfile.TemporaryDirectory() as top:
        roster = Path(top, "roster.csv")
        write_whole(roster, ("id,name\n" + "".join(f"{who},Made-up {who}\n" for who in people)).encode())
        cohort: Cohort = set_up(Path(top, "cohort"), roster).cohort
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            port = int(probe.getsockname()[1])
        with shared.running(cohort.folder, port) as running:

            async def within() -> bool:
                try:
                    return await measured(running, people, moves, pause, ["hub", "service", "hub", "service"])
                finally:
                    await running.close_visitors()

            fine = asyncio.run(within())
        print(json.dumps({"seats": count, "fine": fine}))
    return 0 if fine else 1


if __name__ == "__main__":
    sys.exit(main())
