"""The engine: runs notebooks in jailed children of a warm parent, and reads what they show as untrusted data."""

from __future__ import annotations

import json
import socket
import struct
import subprocess
import tempfile
import threading
import time
from collections import Counter
from dataclasses import asdict, dataclass, field
from functools import cache
from typing import Protocol, Self

from dryerbench.core import identity
from dryerbench.core.errors import LegToLegError
from legtoleg.core.paths import course_folder
from legtoleg.sandbox import jail
from legtoleg.sandbox.jupyter_kernels import marking_environment
from legtoleg.sandbox.output_sanitizer import Output, checked_outputs

LARGEST_LINE = 1_000_000
"""Bytes that one cell may answer with."""
LARGEST_ANSWER = 8_000_000
"""Bytes that one notebook may answer with in all."""
_START_SECONDS = 60
_ATTEMPTS = 3
_KILLED = (-9, 128 + 9)
"""How a jail ends when it, or what runs in it, gets the system's kill signal."""
_LOST = "lost"
"""No last word came: not the notebook ended, but whoever watched it."""
_NO_JAIL = "no jail"
"""How the last word begins when the notebook was never run."""
TIME, FLOOD = "time", "the marker had read enough"
_WARM_AT = 2
"""At which notebook of a lesson the warm parent runs the lesson itself; for one alone it would not pay."""


class EngineError(LegToLegError, RuntimeError):
    """The jail for notebooks could not be made on this computer; the text says why."""


@dataclass(frozen=True)
class Limits:
    """What one notebook may use: seconds for a cell and in all, MB of memory, of files, processes."""

    cell_seconds: int = 20
    notebook_seconds: int = 90
    megabytes: int = 1024
    desk_megabytes: int = 32
    file_megabytes: int = 16
    processes: int = 12


@dataclass(frozen=True)
class Job:
    """One notebook to run: whose machine it is, the code of its cells, and for which time its card was dealt."""

    apprentice: str
    lesson: str
    cells: tuple[str, ...]
    try_number: int = 1


@dataclass
class Run:
    """What a notebook showed, by cell number, and how it ended early, if it did (empty: it ran to its end)."""

    outputs: dict[int, list[Output]] = field(default_factory=dict)
    ended: str = ""
    isolated: bool = False
    """Whether the notebook was shut in: it could reach no file, no network and no reference answer of this computer."""


@cache
def released_cells(lesson: str) -> tuple[str, ...]:
    """Return the code of ``lesson`` as apprentices get it; nothing if the course has no such lesson."""
    try:
        path = course_folder("lessons") / lesson / f"{lesson}.ipynb"
        cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
        return tuple("".join(cell["source"]) for cell in cells if cell["cell_type"] == "code")
    except (OSError, ValueError, LookupError, TypeError, LegToLegError):
        return ()


class Engine(Protocol):
    """Anything that runs notebooks; ``run`` may be called from several threads at once."""

    def run(self, job: Job) -> Run:
        """Run ``job`` and return what it showed."""

    def close(self) -> None:
        """Leave no process behind."""


ENDS = {
    TIME: "the whole notebook took longer than it may",
    "memory": "it used more memory than it may",
    _LOST: "the system ended it, three times; perhaps this computer is out of memory",
    "died": "it ended its own Python before the last cell",
    FLOOD: "it showed more than anyone can read",
}


class WarmEngine:
    """A warm parent, shut in by one of the ways there are. Start it once; it forks one child for each job."""

    def __init__(self, limits: Limits | None = None, way: jail.Way = jail.BUBBLEWRAP) -> None:
        self.limits, self.way = limits or Limits(), way
        self._lock = threading.Lock()
        self._socket: socket.socket | None = None
        self._process: subprocess.Popen[bytes] | None = None
        self._came: Counter[str] = Counter()
        self._says = tempfile.TemporaryFile()  # noqa: SIM115 - closed with the engine

    def _start(self) -> socket.socket:
        """Start a warm parent; if it is killed from outside before it is ready, another one."""
        for _ in range(_ATTEMPTS):
            line = self._try_to_start()
            if line is not None:
                return line
        raise EngineError(f"The jail for notebooks did not start: {self._last_words()}")

    def _try_to_start(self) -> socket.socket | None:
        """Return the socket of a warm parent that is ready, or None if it was killed before.

        Raises
        ------
        EngineError
            If it ended by itself or does not get ready.
        """
        ours, theirs = socket.socketpair(socket.AF_UNIX, socket.SOCK_SEQPACKET)
        command, variables = jail.warm_parent(self.way, self.limits.notebook_seconds, self.limits.megabytes)
        with theirs:
            self._process = subprocess.Popen(
                command,
                stdin=theirs.fileno(),
                stdout=subprocess.DEVNULL,
                stderr=self._says,
                close_fds=True,
                env=variables,
            )
        ours.settimeout(_START_SECONDS)
        try:
            ready = ours.recv(1)
        except TimeoutError:
            ready = b""
        if not ready:
            ours.close()
            if self._stop_process() in _KILLED:
                return None
            raise EngineError(f"The jail for notebooks did not start: {self._last_words()}")
        ours.settimeout(None)
        self._socket = ours
        self._came.clear()
        return ours

    def _last_words(self) -> str:
        self._says.seek(0)
        lines = self._says.read().decode("utf-8", "replace").strip().splitlines()
        return lines[-1][:300] if lines else "it gave no reason."

    def _stop_process(self) -> int | None:
        """Return how the process ended by itself; None if there was none, or it had to be ended."""
        process, self._process = self._process, None
        if process is None:
            return None
        try:
            return process.wait(5)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()
            return None

    def close(self) -> None:
        """Hang up: the warm parent ends when its socket closes, and with it whatever it started."""
        with self._lock:
            self._hang_up()
        self._says.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def _send(self, lesson: str, handles: list[int]) -> None:
        with self._lock:
            if self._process is not None and self._process.poll() is not None:
                self._hang_up()
            line = self._socket or self._start()
            try:
                self._warm(line, lesson)
                socket.send_fds(line, [b"j"], handles)
            except OSError:
                self._hang_up()

    def _warm(self, line: socket.socket, lesson: str) -> None:
        """Let the parent run ``lesson`` once as it was released, before the second notebook of it comes."""
        self._came[lesson] += 1
        cells = released_cells(lesson) if self._came[lesson] == _WARM_AT else ()
        if cells:
            ours, theirs = socket.socketpair()
            with ours, theirs:
                wanted = {"cells": cells, "environment": marking_environment(identity.PRACTICE)}
                socket.send_fds(line, [b"w"], [theirs.fileno()])
                ours.sendall(json.dumps(wanted).encode("utf-8") + b"\n")

    def _hang_up(self) -> None:
        if self._socket is not None:
            self._socket.close()
            self._socket = None
        self._stop_process()

    def run(self, job: Job) -> Run:
        """Run ``job`` in a child of its own; if whoever watched it was killed from outside, in another one.

        Raises
        ------
        EngineError
            If the jail cannot be made.
        """
        for attempt in range(_ATTEMPTS):
            time.sleep(attempt / 4)  # a parent that is dying has to be seen to be dead
            ours, theirs = socket.socketpair()
            hears, tells = socket.socketpair()
            with ours, hears:
                with theirs, tells:
                    self._send(job.lesson, [theirs.fileno(), tells.fileno()])
                result = self._talk(ours, hears, job)
            if result.ended != _LOST and not result.ended.startswith(_NO_JAIL):
                break
        if result.ended.startswith(_NO_JAIL):
            raise EngineError(f"The jail for this notebook could not be made: {result.ended}")
        result.ended = ENDS.get(result.ended, result.ended)
        return result

    def _talk(self, line: socket.socket, word: socket.socket, job: Job) -> Run:
        """Return what the child says on its ``line``; how it ended is only believed of its parent, on ``word``."""
        ends = time.monotonic() + self.limits.notebook_seconds + 10
        _wait_at_most(line, self.limits.notebook_seconds + 10)
        wanted = {
            "cells": job.cells,
            "environment": marking_environment(job.apprentice, job.try_number),
            "limits": asdict(self.limits),
        }
        result = Run(isolated=self.way.isolates)
        reader = _Lines(line, ends)
        finished = False
        try:
            line.sendall(json.dumps(wanted).encode("utf-8") + b"\n")
            while not finished and (text := reader.next()) is not None:
                finished = take(result, text, len(job.cells))
        except (TimeoutError, BlockingIOError):
            result.ended = TIME
            return result
        except OSError:
            pass  # the other end is gone; what it said before counts
        if finished:  # of a cell that showed nothing, nothing was said
            result.outputs = {number: result.outputs.get(number, []) for number in range(len(job.cells))}
        else:
            result.ended = FLOOD if reader.flooded else _last_word(word, ends)
        return result


def _wait_at_most(line: socket.socket, seconds: int) -> None:
    """Let the system itself end a wait on ``line``: with a timeout of Python's, it could not wait for all at once."""
    for which in (socket.SO_RCVTIMEO, socket.SO_SNDTIMEO):
        line.setsockopt(socket.SOL_SOCKET, which, struct.pack("@ll", seconds, 0))


def _last_word(word: socket.socket, ends: float) -> str:
    """Return how the parent says that a child ended; ``lost`` if it says nothing any more."""
    try:
        word.settimeout(max(0.1, ends - time.monotonic()))
        said: object = json.loads(word.recv(4096).partition(b"\n")[0] or b"{}")
    except TimeoutError:
        return TIME
    except (OSError, ValueError):
        return _LOST
    ended = said.get("ended") if isinstance(said, dict) else None
    return ended[:200] if isinstance(ended, str) else _LOST


class _Lines:
    """Lines from a socket that may send anything: too long or too many are the end."""

    def __init__(self, line: socket.socket, ends: float) -> None:
        self._line, self._ends = line, ends
        self._waiting = bytearray()
        self._read = 0
        self.flooded = False

    def next(self) -> bytes | None:
        """Return the next line, or None when there is no more."""
        start = 0
        while True:
            found = self._waiting.find(b"\n", start)
            if found >= 0:
                text = bytes(self._waiting[:found])
                del self._waiting[: found + 1]
                return text
            if len(self._waiting) > LARGEST_LINE or self._read > LARGEST_ANSWER:
                self.flooded = True
                return None
            if time.monotonic() > self._ends:
                return None
            start = len(self._waiting)
            more = self._line.recv(262_144, socket.MSG_WAITALL)  # this thread is not woken for each line
            if not more:
                return None
            self._read += len(more)
            self._waiting += more


def take(result: Run, text: bytes, cells: int) -> bool:
    """Put one line into ``result``; tell whether it was the last. A line that is no message of ours is passed over."""
    try:
        message: object = json.loads(text)
    except (ValueError, RecursionError):
        return False
    if not isinstance(message, dict):
        return False
    if message.get("finished") is True:
        return True
    number = message.get("cell")
    if type(number) is int and 0 <= number < cells and number not in result.outputs:
        result.outputs[number] = checked_outputs(message.get("outputs"))
    return False
