"""The service of sealed benches: one socket in each seat's jail; who asks is told by the kernel, not by a token."""

from __future__ import annotations

import asyncio
import json
import os
import socket
import struct
import sys
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from tornado import web
from tornado.httpserver import HTTPServer
from tornado.netutil import bind_unix_socket

from legtoleg.classroom.class_folder import ClassFolder
from legtoleg.classroom.sealed_book import SealedBook
from legtoleg.classroom.sealed_dealing import Dealer
from legtoleg.classroom.sealed_refresher import page_of, take_page
from legtoleg.classroom.sealed_room import Answer, RefusedError, SealedRoom
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.intake.notebook_repair import LARGEST_FILE
from legtoleg.intake.roster import RosterError

SOCKET = "bench"
"""The name of the socket, beside the class's own."""
LARGEST_ACT = 2_000
GATED = "LEGTOLEG_GATED"
"""The environment variable that says that seats are on other computers and ask through the gate."""


class NobodyError(web.HTTPError):
    """Whoever asks is not the one whose socket it is."""


class SealedHandler(web.RequestHandler):
    """A request of a seat; every answer is JSON, and what is refused is refused in one line."""

    def initialize(self, room: SealedRoom, folder: ClassFolder, who: str) -> None:
        """Keep what all handlers share, and whose socket this is."""
        self.room, self.folder, self.who = room, folder, who

    def prepare(self) -> None:
        """Refuse a process that runs as another user than the owner of the seat's home."""
        stream = getattr(self.request.connection, "stream", None)
        if stream is None or not is_of_seat(peer_user(stream.socket), self.folder, self.who):
            raise NobodyError(403)
        if len(self.request.body) > LARGEST_ACT and not isinstance(self, Page):
            raise web.HTTPError(413)

    def answer(self, asked: Callable[[], Answer]) -> None:
        """Send what was ``asked`` for, or why not."""
        try:
            self.give(asked())
        except RefusedError as error:
            self.give(error.answer)

    def give(self, answer: Answer) -> None:
        """Send an answer."""
        self.set_status(answer.status)
        self.set_header("Content-Type", "application/json; charset=utf-8")
        self.finish(answer.text)

    def compute_etag(self) -> None:
        """Send no mark of the content."""

    def set_default_headers(self) -> None:
        """Say nothing of clock or make."""
        self.clear_header("Server")
        self.clear_header("Date")

    def write_error(self, status_code: int, **_: object) -> None:
        """Refuse in one line, whatever it was."""
        self.give(Answer.of(status_code, said=_LINES.get(status_code, _TROUBLE)))


_TROUBLE = "The bench could not do that. Nothing was done."
_LINES = {
    403: "This bench is another seat's.",
    404: "There is nothing of that name here.",
    405: "There is nothing of that name here.",
    413: "That is too long for an act. Nothing was done.",
}


def peer_user(line: socket.socket) -> int:
    """Return the user of the process at the other end of ``line``, as the kernel of this computer tells it."""
    told = line.getsockopt(socket.SOL_SOCKET, socket.SO_PEERCRED, struct.calcsize("3i"))
    return int(struct.unpack("3i", told)[1])


def is_of_seat(user: int, folder: ClassFolder, who: str) -> bool:
    """Tell whether ``user`` is the one whose home is that of ``who``; root is nobody's seat where seats have users.

    Behind a gate no seat sees the sockets: the gate asks, once the hub has told whose token it was given.
    """
    try:
        owner = (folder.homes / who).lstat().st_uid
    except OSError:
        return False
    if os.environ.get(GATED):
        return user == os.getuid()
    return user == owner and (os.getuid() != 0 or user != 0)


class Tests(SealedHandler):
    """What the seat may take."""

    def get(self) -> None:
        """Tell it."""
        self.answer(lambda: self.room.tests(self.who))


class Opened(SealedHandler):
    """One bench as it stands."""

    def get(self, test: str, job: str) -> None:
        """Tell it."""
        self.answer(lambda: self.room.opened(self.who, test, job))


class DoAct(SealedHandler):
    """One act."""

    def post(self, test: str, job: str) -> None:
        """Do it."""
        self.answer(lambda: self.room.act(self.who, test, job, self.request.body))


class Press(SealedHandler):
    """One press on the panel of a page."""

    def post(self, test: str, job: str) -> None:
        """Do it, and tell what the page shows then."""
        self.answer(lambda: self.room.press(self.who, test, job, self.request.body))


class NameFault(SealedHandler):
    """The fault's name."""

    def post(self, test: str, job: str) -> None:
        """Write it."""
        self.answer(lambda: self.room.name(self.who, test, job, self.request.body))


class End(SealedHandler):
    """The end of a test."""

    def post(self, test: str) -> None:
        """End it."""
        self.answer(lambda: self.room.end(self.who, test))


class Page(SealedHandler):
    """The page of a refresher: given out, and taken in, which ends the test."""

    def get(self, test: str) -> None:
        """Give it."""
        self.answer(lambda: page_of(self.room, self.who, test))

    def post(self, test: str) -> None:
        """Take it."""
        self.answer(lambda: take_page(self.room, self.folder, self.who, test, self.request.body))


class Nothing(SealedHandler):
    """Anything else."""

    def prepare(self) -> None:
        """Refuse."""
        super().prepare()
        raise web.HTTPError(404)


_TEST, _JOB = r"/tests/([a-z]{1,20}-[0-9a-f]{8})", r"/([a-z0-9_-]{1,60})"


def sealed_side(room: SealedRoom, folder: ClassFolder, who: str) -> web.Application:
    """Return what listens on the bench's socket of ``who``."""
    given = {"room": room, "folder": folder, "who": who}
    ways = [
        ("/tests", Tests),
        (f"{_TEST}/end", End),
        (f"{_TEST}/page", Page),
        (f"{_TEST}{_JOB}", Opened),
        (f"{_TEST}{_JOB}/act", DoAct),
        (f"{_TEST}{_JOB}/press", Press),
        (f"{_TEST}{_JOB}/fault", NameFault),
    ]
    routes = [web.url(way, handler, given) for way, handler in ways]
    return web.Application(
        routes, default_handler_class=Nothing, default_handler_args=given, log_function=lambda _: None
    )


class SealedSockets:
    """The bench's sockets of all seats; the roster may grow while the class runs."""

    def __init__(self, room: SealedRoom, folder: ClassFolder) -> None:
        self._room, self._folder = room, folder
        self._servers: dict[str, HTTPServer] = {}

    def open(self) -> None:
        """Open the socket of everyone on the roster who has none yet."""
        with suppress(RosterError):
            for person in self._folder.cohort.people():
                if person.id not in self._servers:
                    self._servers[person.id] = self._listen(person.id)

    def close(self) -> None:
        """Close all."""
        for server in self._servers.values():
            server.stop()

    def _listen(self, who: str) -> HTTPServer:
        place = self._folder.seat(who) / "service"
        place.mkdir(mode=0o711, parents=True, exist_ok=True)
        (place / SOCKET).unlink(missing_ok=True)
        server = HTTPServer(sealed_side(self._room, self._folder, who), max_buffer_size=LARGEST_FILE + (1 << 20))
        server.add_socket(bind_unix_socket(str(place / SOCKET), mode=0o666))
        return server


async def serve(folder: ClassFolder) -> None:
    """Keep the service until the process is ended."""
    room = SealedRoom(SealedBook.of(folder), Dealer.of(folder))
    sockets = SealedSockets(room, folder)
    while True:
        sockets.open()
        await asyncio.sleep(5)


def main() -> None:
    """Run the service of the class whose settings stand in the argument."""
    asyncio.run(serve(ClassFolder(Cohort(Path(json.loads(sys.argv[1])["folder"])))))


if __name__ == "__main__":
    main()
