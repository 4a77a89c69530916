"""The supervisor: starts door, hub, service and warm parent, each again when it ends, and ends all of it in order."""

from __future__ import annotations

import asyncio
import fcntl
import json
import shutil
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path

from legtoleg.classroom.class_folder import ClassError, ClassFolder
from legtoleg.classroom.hub_settings import told, write_config
from legtoleg.classroom.processes import Process
from legtoleg.classroom.seat_files import settings_folder
from legtoleg.classroom.seat_jail import Guard, guard_here
from legtoleg.classroom.seats import end_seat, kill_seat
from legtoleg.classroom.warm_start import parent_command

_WITH_US = ["setpriv", "--pdeathsig", "KILL", "--"]
"""Words that let no sibling outlive its supervisor: two hubs would share one book."""
_SLOWEST = 30.0
"""Seconds before a sibling that ends at once is started again."""


@dataclass
class Sibling:
    """One program of the class."""

    name: str
    command: list[str]
    process: subprocess.Popen[bytes] | None = None
    begun: float = 0.0
    wait: float = 0.2
    next: float = 0.0
    starts: int = 0

    def start(self, log: Path) -> None:
        """Start it."""
        with log.open("ab") as out:
            self.process = subprocess.Popen(
                [*_WITH_US, *self.command],
                stdin=subprocess.DEVNULL,
                stdout=out,
                stderr=out,
                start_new_session=True,
                cwd=log.parent,
            )
        self.begun, self.starts = time.monotonic(), self.starts + 1

    def ended(self) -> bool:
        """Tell whether it has to be started again, now or later; one that ends at once waits longer each time."""
        if self.process is not None and self.process.poll() is None:
            return False
        if self.process is not None:
            self.process = None
            lasted = time.monotonic() - self.begun
            self.wait = 0.2 if lasted > 10 else min(_SLOWEST, self.wait * 2)
            self.next = time.monotonic() + self.wait
        return time.monotonic() >= self.next


@contextmanager
def only_one(folder: ClassFolder) -> Iterator[None]:
    """Hold the class's lock.

    Raises
    ------
    ClassError
        If this class runs already.
    """
    with (folder.root / "lock").open("a+") as lock:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            raise ClassError(
                f"This class is already running: {folder.cohort.folder}. End that one with Ctrl-C."
            ) from None
        yield


@dataclass
class Supervisor:
    """Runs one class."""

    folder: ClassFolder
    host: str
    port: int
    certificate: str = ""
    key: str = ""
    say: Callable[[str], None] = print
    siblings: list[Sibling] = field(default_factory=list)

    def _made(self) -> list[Sibling]:
        words = told(self.folder, self.host, self.port, self.certificate, self.key)
        config = write_config(self.folder, self.host, self.port)
        warm = [Sibling("warm parent", parent_command(self.folder))] if guard_here() is Guard.OWN_USER else []
        return [
            Sibling("door", [sys.executable, "-m", "legtoleg.classroom.door", words]),
            Sibling("hub", [sys.executable, "-m", "jupyterhub", "-f", str(config)]),
            Sibling("service", [sys.executable, "-m", "legtoleg.classroom.class_service", words]),
            Sibling("bench", [sys.executable, "-m", "legtoleg.classroom.sealed_service", words]),
            *warm,
        ]

    async def run(self, stop: asyncio.Event, ready: Callable[[], None] = lambda: None) -> None:
        """Run until ``stop`` is set; call ``ready`` once when the hub listens.

        Raises
        ------
        ClassError
            If a sibling cannot be started at all; the text quotes the last line of its log.
        """
        self.folder.prepare()
        with only_one(self.folder):
            settings_folder(self.folder)
            self.folder.hub_socket.unlink(missing_ok=True)
            self.siblings = self._made()
            try:
                await self._keep(stop, ready)
            finally:
                await self._end()

    def log(self, sibling: Sibling) -> Path:
        """Return where a sibling writes."""
        return self.folder.logs / f"{sibling.name}.log"

    async def _keep(self, stop: asyncio.Event, ready: Callable[[], None]) -> None:
        waiting = True
        while not stop.is_set():
            for one in self.siblings:
                if one.ended():
                    if one.starts > 4 and waiting:
                        raise ClassError(f"The {one.name} does not start: {last_line(self.log(one))}")
                    if one.starts and not waiting:
                        self.say(f"The {one.name} ended and is started again.")
                    one.start(self.log(one))
            if waiting and await listening(self.folder.hub_socket):
                waiting = False
                ready()
            with suppress(TimeoutError):
                await asyncio.wait_for(stop.wait(), 0.2)

    async def _end(self) -> None:
        """End hub, service and warm parent, then the seats, the door last."""
        running = [one.process for one in self.siblings if one.process is not None]
        for process in running[1:]:
            process.terminate()
        for process in running[1:]:
            await _gone(process, 10)
        await asyncio.to_thread(end_seats, self.folder)
        for process in running[:1]:
            process.terminate()
            await _gone(process, 5)
        if not seats_of(self.folder):
            shutil.rmtree(self.folder.sockets, ignore_errors=True)


async def _gone(process: subprocess.Popen[bytes], seconds: float) -> None:
    try:
        await asyncio.to_thread(process.wait, seconds)
    except subprocess.TimeoutExpired:
        process.kill()
        await asyncio.to_thread(process.wait)


async def listening(socket: Path) -> bool:
    """Tell whether somebody listens on ``socket``."""
    try:
        _, writer = await asyncio.open_unix_connection(str(socket))
    except OSError:
        return False
    writer.close()
    return True


def last_line(log: Path) -> str:
    """Return the last line that says something in a sibling's log."""
    try:
        lines = log.read_text(encoding="utf-8", errors="replace").strip().splitlines()
    except OSError:
        return f"{log} cannot be read."
    return f"{lines[-1][:300]} (see {log})" if lines else f"it said nothing (see {log})."


def seats_of(folder: ClassFolder) -> list[Process]:
    """Return the seats that run, as the hub's book has them."""
    book = folder.root / "secrets" / "hub.sqlite"
    if not book.is_file():
        return []
    with closing(sqlite3.connect(f"file:{book}?mode=ro", uri=True)) as rows, suppress(sqlite3.Error):
        states = [json.loads(row[0] or "{}") for row in rows.execute("select state from spawners")]
        seats = [Process(int(one.get("pid") or 0), int(one.get("started") or 0)) for one in states]
        return [seat for seat in seats if seat.alive()]
    return []


def end_seats(folder: ClassFolder, seconds: float = 8.0) -> None:
    """End every seat: all are asked, and what is left after ``seconds`` is ended."""
    guard, seats = guard_here(), seats_of(folder)
    for seat in seats:
        end_seat(seat, guard)
    until = time.monotonic() + seconds
    while time.monotonic() < until and any(seat.alive() for seat in seats):
        time.sleep(0.05)
    for seat in seats:
        kill_seat(seat, guard)


def raise_signals(loop: asyncio.AbstractEventLoop, stop: asyncio.Event) -> None:
    """Let Ctrl-C and a polite kill end the class in order."""
    for sign in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
        loop.add_signal_handler(sign, stop.set)
