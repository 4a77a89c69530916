"""A class of sealed benches for tests: the real service on real sockets, in this process; the clock is the test's."""

from __future__ import annotations

import asyncio
import http.client
import json
import socket
import threading
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from legtoleg.classroom.class_folder import ClassFolder
from legtoleg.classroom.sealed_book import SealedBook
from legtoleg.classroom.sealed_dealing import Dealer
from legtoleg.classroom.sealed_room import SealedRoom
from legtoleg.classroom.sealed_service import SealedSockets
from legtoleg.cohort.cohort_folder import Cohort

PEOPLE = {"ada-01": "Ada Demo", "bo-02": "Bo Demo"}


@dataclass
class Clock:
    """Seconds since 1970, as the test says; ``run`` is added at every look."""

    now: float = 1_800_000_000.0
    run: float = 0.0

    def __call__(self) -> float:
        self.now += self.run
        return self.now


@dataclass
class Got:
    """One answer, as it came over the socket."""

    status: int
    text: bytes
    headers: dict[str, str]

    @property
    def said(self) -> Any:
        return json.loads(self.text)


class _Line(http.client.HTTPConnection):
    def __init__(self, path: Path) -> None:
        super().__init__("bench", timeout=30)
        self._path = path

    def connect(self) -> None:
        self.sock = socket.socket(socket.AF_UNIX)
        self.sock.settimeout(30)
        self.sock.connect(str(self._path))


def make_folder(place: Path, sockets: Path) -> ClassFolder:
    """Return a class with two people and their homes."""
    place.mkdir(parents=True)
    (place / "roster.csv").write_text("id,name\n" + "".join(f"{who},{name}\n" for who, name in PEOPLE.items()))

    class Here(ClassFolder):
        @property
        def sockets(self) -> Path:
            return sockets

    folder = Here(Cohort(place))
    folder.prepare()
    for who in PEOPLE:
        (folder.homes / who).mkdir(exist_ok=True)
    return folder


@dataclass
class SealedClass:
    """The service, running."""

    folder: ClassFolder
    clock: Clock = field(default_factory=lambda: Clock(run=60.0))
    dealer: Dealer | None = None
    room: SealedRoom = field(init=False)
    _loop: asyncio.AbstractEventLoop | None = None

    def start(self) -> SealedClass:
        ready = threading.Event()

        async def serve() -> None:
            self.room = SealedRoom(
                SealedBook(self.folder.root / "secrets" / "supervised.sqlite", self.clock),
                self.dealer or Dealer.of(self.folder),
            )
            self._sockets = SealedSockets(self.room, self.folder)
            self._sockets.open()
            self._loop, self._stop = asyncio.get_running_loop(), asyncio.Event()
            ready.set()
            await self._stop.wait()
            self._sockets.close()

        self._thread = threading.Thread(target=lambda: asyncio.run(serve()), daemon=True)
        self._thread.start()
        assert ready.wait(20)
        return self

    def stop(self) -> None:
        """End it with nothing said to anybody: what was not on the disk is gone."""
        assert self._loop is not None
        self._loop.call_soon_threadsafe(self._stop.set)
        self._thread.join(10)

    def again(self) -> None:
        self.stop()
        self.start()

    def book(self) -> SealedBook:
        return SealedBook(self.folder.root / "secrets" / "supervised.sqlite", self.clock)

    def open(self, *who: str, minutes: float = 600.0) -> str:
        return self.book().open("calls", {one: {} for one in who or PEOPLE}, minutes).test

    def path(self, who: str = "ada-01") -> Path:
        return self.folder.seat(who) / "service" / "bench"

    def ask(self, way: str, place: str, body: Any = None, who: str = "ada-01") -> Got:
        line = _Line(self.path(who))
        content = body if isinstance(body, bytes) else b"" if body is None else json.dumps(body).encode()
        try:
            line.request(way, place, content)
            got = line.getresponse()
            return Got(got.status, got.read(), {name.lower(): value for name, value in got.getheaders()})
        finally:
            line.close()

    def act(self, test: str, n: int, act: str, job: str = "call-1", who: str = "ada-01", **given: Any) -> Got:
        return self.ask("POST", f"/tests/{test}/{job}/act", {"n": n, "act": act, "with": given}, who)
