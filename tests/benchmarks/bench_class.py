"""A class under load on this computer alone: seats by real kernel websockets, moves on the bench, kills, hand-ins.

    python tests/benchmarks/bench_class.py [SEATS] [MOVES] [PAUSE]

Prints memory a seat (PSS, all of its processes), how long seats take to open, a move's median and 95th percentile,
on the page's own bench and on a sealed one of a supervised test, undisturbed and while hub, warm parent, service,
bench and door are killed ten times. It counts the hand-ins and sealed acts that were lost. At last every seat runs a
lesson whole, figures included, the ten lessons in turn. The visitors are in the same measure: they use the same
processors. As root, with bubblewrap.
"""

from __future__ import annotations

import asyncio
import hashlib
import importlib.util
import itertools
import json
import os
import random
import signal
import socket
import statistics
import sys
import tempfile
import time
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from types import ModuleType
from typing import Any

import aiohttp
import nbformat

from dryerbench.registry import SHEETS
from legtoleg.classroom.sealed_book import SealedBook
from legtoleg.classroom.sealed_opening import open_calls
from legtoleg.classroom.sealed_pace import SECONDS_A_MINUTE
from legtoleg.classroom.supervisor import seats_of
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.cohort_setup import set_up
from legtoleg.core.files import write_whole

KILLS = ["hub", "warm", "service", "door", "bench", "hub", "service", "bench", "warm", "door"]
NEW = "meter-7-leads"
BEGIN = """
import time, json, hashlib
from dryerbench import *
from dryerbench.bench.bench import Bench
from dryerbench.diagnosis.service_calls import deal_call
from dryerbench.notebook.machine_panel import MachinePanel
from dryerbench.notebook.class_link import class_link
job_card('03_heater_power')
panel = MachinePanel(deal_call({call}).bench)
content = open('03_heater_power.ipynb', 'rb').read()
panel.receive({{'act': 'unplug', 'with': {{}}}})
panel.receive({{'act': 'cover_off', 'with': {{}}}})
panel.receive({{'act': 'set_dial', 'with': {{'mode': 'ohms', 'full_scale': None}}}})
print('ready')
"""
SEALED = """
from dryerbench.notebook.far_desk import FarDesk
from dryerbench.notebook.machine_panel import Panel
from dryerbench.notebook.supervised import supervised_bench
sealed = supervised_bench({test!r}, 'call-1')
far = Panel(FarDesk(sealed))
far.receive({{'act': 'unplug'}})
far.receive({{'act': 'dial', 'with': {{'at': 'ohms'}}}})
spots = [spot for _, there in far.view['reach'] for spot, _ in there]
far.receive({{'act': 'place', 'with': {{'probe': 'A', 'spot': spots[0], 'alone': False}}}})
at = 0
print('ready', len(sealed.trail), len(spots))
"""
SEALED_MOVE = """
at += 1
far.receive({'act': 'place', 'with': {'probe': 'B', 'spot': spots[1 + at % (len(spots) - 1)], 'alone': False}})
print(len(sealed.trail))
"""
REST = 20.0
"""Seconds after kills until all of the class is up again, and the next stretch is measured."""
SEALED_PACE = 1.5
"""Minutes on the bench that a sealed move takes at most: a faster one would wait for its turn, and measure that."""
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


def pss(pid: int) -> int:
    """Return the kilobytes of a process: its own, and its part of what it shares."""
    try:
        lines = Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines()
    except OSError:
        return 0
    return sum(int(line.split()[1]) for line in lines if line.startswith("Pss:"))


def world(pid: int) -> str:
    try:
        return str(Path(f"/proc/{pid}/ns/pid").readlink())
    except OSError:
        return ""


def seat_sizes(running: Any) -> list[float]:
    """Return the MiB of each seat: its jail's own process and all in the jail."""
    sizes = {world(seat.children()[0].pid): pss(seat.pid) for seat in seats_of(running.room)}
    for place in Path("/proc").iterdir():
        if place.name.isdigit() and (where := world(int(place.name))) in sizes:
            sizes[where] += pss(int(place.name))
    return [size / 1024 for size in sizes.values()]


async def again(visitor: Any) -> None:
    """Open a kernel's websocket again after the door was gone, as a browser does."""
    for _ in range(100):
        try:
            await visitor.connect()
        except (aiohttp.ClientError, OSError):
            await asyncio.sleep(0.2)
        else:
            return
    raise AssertionError(f"{visitor.who} does not come back")


async def asked(visitor: Any, code: str, again_and: list[int]) -> str:
    """Run ``code``; where the websocket is lost, open it again and run it once more."""
    while True:
        try:
            return str(await visitor.run(code, 30))
        except (TypeError, aiohttp.ClientError, OSError):  # what comes is no text: the line is closed
            again_and.append(1)
            await again(visitor)


@dataclass
class Work:
    """What was measured in one stretch of work."""

    times: list[float] = field(default_factory=list)
    given: list[str] = field(default_factory=list)
    reopened: list[int] = field(default_factory=list)
    refused: list[str] = field(default_factory=list)

    sealed: dict[str, int] = field(default_factory=dict)
    """How many acts on the sealed bench each was told of."""

    async def of(self, visitor: Any, number: int, moves: int, pause: float, code: str) -> None:
        """Move the bench now and then, and hand in twice."""
        chance = random.Random(number)
        for move in range(moves):
            await asyncio.sleep(chance.uniform(0, 2 * pause) if code == MOVE else chance.uniform(0.9, 1.1) * pause)
            begun = time.perf_counter()
            said = await asked(visitor, code, self.reopened)
            self.times.append(time.perf_counter() - begun)
            if code == SEALED_MOVE and said.strip().isdigit():
                self.sealed[visitor.who] = int(said)
            if move in (moves // 3, 2 * moves // 3):
                await self.give(visitor, move)

    async def give(self, visitor: Any, move: int) -> None:
        """Hand in until a receipt is seen: one whose words got lost with the websocket is asked for again."""
        while True:
            said = (await asked(visitor, GIVE % move, self.reopened)).strip()
            if len(said) == 64:
                self.given.append(said)
                return
            self.refused.append(said[:200] or "no words came")

    def told(self, running: Any) -> str:
        """Return it in words."""
        gone = lost(running, self.given)
        moves = f"{len(self.times)} moves: {told(self.times)}; websockets opened again: {len(self.reopened)}"
        again = dict(Counter(self.refused))
        if self.sealed:
            moves += f"; sealed acts told of: {sum(self.sealed.values())}, lost: {lost_acts(running, self.sealed)}"
        return f"{moves}; hand-ins with a receipt: {len(self.given)}, lost: {gone}, asked again: {again}"


async def killing(running: Any, kills: list[str], every: float) -> None:
    for name in kills:
        await asyncio.sleep(every)
        while True:
            try:
                os.kill(running.pid_of(name), signal.SIGKILL)
            except (AssertionError, OSError):  # the one before is still being started again
                await asyncio.sleep(0.5)
            else:
                break


def load() -> str:
    return f"load of the computer {os.getloadavg()[0]:.1f}"


def open_test(running: Any) -> str:
    """Open a supervised test for everybody and return its name."""
    return open_calls(running.room, [person.id for person in running.room.cohort.people()], 600).test


def lost_acts(running: Any, told_of: dict[str, int]) -> int:
    """Return how many sealed acts somebody was told of that the class's book does not hold."""
    book = SealedBook.of(running.room)
    (test,) = [one.test for one in book.tests()]
    return sum(max(0, acts - len(book.acts(test, who, "call-1"))) for who, acts in told_of.items())


async def whole_lessons(running: Any, visitors: list[Any]) -> None:
    """Let each seat run a lesson from first cell to last, in the kernel that it has, and print what it takes."""

    async def one(visitor: Any, lesson: str) -> bool:
        notebook = nbformat.read(running.room.kits / visitor.who / "lessons" / lesson / f"{lesson}.ipynb", as_version=4)
        await again(visitor)  # its websocket went with the door
        said = [await visitor.run(cell.source, 300) for cell in notebook.cells if cell.cell_type == "code"]
        return not any("Error" in words for words in said)

    turn = itertools.cycle(SHEETS)
    begun, ran = time.monotonic(), 0
    for first in range(0, len(visitors), 4):
        few = visitors[first : first + 4]
        ran += sum(await asyncio.gather(*(one(visitor, next(turn)) for visitor in few)))
    sizes = sorted(seat_sizes(running))
    print(
        f"lessons run whole: {ran} of {len(visitors)} without an error, {time.monotonic() - begun:.0f} s; "
        f"memory (PSS): {statistics.mean(sizes):.0f} MiB a seat ({sizes[0]:.0f} to {sizes[-1]:.0f}), "
        f"{sum(sizes):.0f} in all"
    )


async def measured(running: Any, people: list[str], moves: int, pause: float, kills: list[str]) -> bool:
    visitors = [running.visitor(who) for who in people]
    print(load())
    begun = time.monotonic()
    for visitor in visitors:
        status, words = await visitor.log_in(running.codes[visitor.who], NEW)
        assert status == 302, words
    print(f"logged in one after the other: {time.monotonic() - begun:.1f} s")
    begun = time.monotonic()
    each = await asyncio.gather(*(visitor.open_seat(600) for visitor in visitors))
    middle = statistics.median(each)
    print(f"all {len(people)} seats up: {time.monotonic() - begun:.1f} s (median {middle:.1f} s); {load()}")
    begun = time.monotonic()
    await asyncio.gather(*(visitor.open_kernel() for visitor in visitors))
    print(f"all kernels: {time.monotonic() - begun:.1f} s")
    begun = time.monotonic()
    ready = await asyncio.gather(*(visitor.run(BEGIN.format(call=n + 1), 600) for n, visitor in enumerate(visitors)))
    assert all("ready" in one for one in ready), ready[0]
    print(f"all benches open: {time.monotonic() - begun:.1f} s")
    sizes = seat_sizes(running)
    siblings = {name: round(pss(running.pid_of(name)) / 1024) for name in ("door", "hub", "service", "bench", "warm")}
    print(f"memory (PSS): {statistics.mean(sizes):.0f} MiB a seat, {sum(sizes):.0f} in all; {siblings}")
    fine, test = True, open_test(running)
    ready = await asyncio.gather(*(visitor.run(SEALED.format(test=test), 600) for visitor in visitors))
    assert all("ready" in one for one in ready), ready
    for words, code, killed in (
        ("page's own bench, undisturbed", MOVE, []),
        (f"page's own bench, with {len(kills)} kills of {', '.join(dict.fromkeys(kills))}", MOVE, kills),
        ("sealed bench, undisturbed", SEALED_MOVE, []),
        (f"sealed bench, with {len(kills)} kills of {', '.join(dict.fromkeys(kills))}", SEALED_MOVE, kills),
    ):
        work, between = Work(), pause if code == MOVE else max(pause, SEALED_PACE * SECONDS_A_MINUTE)
        people_at_work = [work.of(visitor, n, moves, between, code) for n, visitor in enumerate(visitors)]
        await asyncio.gather(killing(running, killed, moves * between / (len(kills) + 1)), *people_at_work)
        print(f"{words}: {work.told(running)}; {load()}")
        fine &= lost(running, work.given) == 0 and lost_acts(running, work.sealed) == 0
        await asyncio.sleep(REST if killed else 0)
    await whole_lessons(running, visitors)
    return fine


def told(times: list[float]) -> str:
    ordered = sorted(times)
    middle, high = statistics.median(ordered), ordered[int(0.95 * (len(ordered) - 1))]
    return f"median {1000 * middle:.1f} ms, 95th {1000 * high:.1f} ms, longest {1000 * ordered[-1]:.0f} ms"


def lost(running: Any, given: list[str]) -> int:
    kept = {hashlib.sha256(path.read_bytes()).hexdigest() for path in (running.folder / "received").glob("*/*.ipynb")}
    return sum(mark not in kept for mark in given)


def main() -> int:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 40
    moves = int(sys.argv[2]) if len(sys.argv) > 2 else 20
    pause = float(sys.argv[3]) if len(sys.argv) > 3 else 2.0
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
                    return await measured(running, people, moves, pause, KILLS)
                finally:
                    await running.close_visitors()

            fine = asyncio.run(within())
        print(json.dumps({"seats": count, "fine": fine}))
    return 0 if fine else 1


if __name__ == "__main__":
    sys.exit(main())
