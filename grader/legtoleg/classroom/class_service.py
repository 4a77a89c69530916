"""The class service: hand-ins and notes by each seat's own socket; the board by the hub's log-in."""

from __future__ import annotations

import asyncio
import json
import os
import sys
from contextlib import suppress
from dataclasses import asdict
from pathlib import Path

from tornado import web
from tornado.httpserver import HTTPServer
from tornado.netutil import bind_unix_socket

from dryerbench.registry import SHEETS
from legtoleg.classroom import board_pages
from legtoleg.classroom.board_rows import row
from legtoleg.classroom.board_state import Board
from legtoleg.classroom.class_folder import ClassFolder, socket_url
from legtoleg.classroom.desk import Desk
from legtoleg.classroom.receipts import Receipts
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.intake.notebook_repair import LARGEST_FILE
from legtoleg.intake.roster import Person, RosterError

PREFIX = "/services/class/"
_LARGEST_NOTE = 4_000


class Service:
    """What all handlers of one class share."""

    def __init__(self, folder: ClassFolder) -> None:
        self.folder = folder
        self.receipts = Receipts(folder)
        self.board = Board(folder.root / "board.json")
        self.board.changed = self.tell_row
        self.desk = Desk(folder, self.tell)
        self.people: dict[str, Person] = {}
        self.watchers: set[asyncio.Queue[str]] = set()
        self._servers: dict[str, HTTPServer] = {}

    def rows(self) -> list[dict[str, object]]:
        """Return all rows of the board."""
        return [row(self.folder.cohort, self.board, self.receipts, one) for one in self.people.values()]

    def tell(self, kind: str, content: object) -> None:
        """Tell every open board."""
        text = f"event: {kind}\ndata: {json.dumps(content)}\n\n"
        for watcher in self.watchers:
            watcher.put_nowait(text)

    def tell_row(self, who: str) -> None:
        """Tell every open board the row of ``who``."""
        if who in self.people and self.watchers:
            self.tell("row", row(self.folder.cohort, self.board, self.receipts, self.people[who]))

    def open_seats(self) -> None:
        """Open the socket of everyone on the roster who has none yet; the roster may grow."""
        with suppress(RosterError):
            self.people = {person.id: person for person in self.folder.cohort.people()}
        for who in self.people.keys() - self._servers.keys():
            place = self.folder.seat(who) / "service"
            place.mkdir(mode=0o711, parents=True, exist_ok=True)
            socket = place / "class"
            socket.unlink(missing_ok=True)
            ways = [(r"/hand-in/([0-9]{2}_[a-z_]{1,60})", HandIn), ("/note", Note), ("/state", State)]
            side = web.Application(ways, service=self, who=who)
            self._servers[who] = HTTPServer(side, max_buffer_size=LARGEST_FILE + (1 << 20))
            self._servers[who].add_socket(bind_unix_socket(str(socket), mode=0o666))


class SeatHandler(web.RequestHandler):
    """A request of a seat: whose it is, is told by the socket that it came by."""

    @property
    def service(self) -> Service:
        """What all handlers share."""
        shared: Service = self.application.settings["service"]
        return shared

    @property
    def who(self) -> str:
        """The apprentice."""
        return str(self.application.settings["who"])


class HandIn(SeatHandler):
    """Takes a page."""

    def post(self, lesson: str) -> None:
        """Keep it, then give the receipt."""
        if lesson not in SHEETS or len(self.request.body) > LARGEST_FILE:
            raise web.HTTPError(400)
        try:
            receipt = self.service.receipts.keep(self.who, lesson, self.request.body)
        except OSError as error:
            self.set_status(507)
            self.write({"said": f"The class could not keep the page ({error.strerror}). Nothing was handed in."})
            return
        self.service.board.place(self.who).last = self.service.board.clock()
        self.service.board.touch(self.who)
        self.service.desk.wants_taking_in()
        self.write(asdict(receipt))


class Note(SeatHandler):
    """Takes a note for the board."""

    def post(self) -> None:
        """Note it."""
        try:
            said = json.loads(self.request.body[:_LARGEST_NOTE])
        except ValueError:
            raise web.HTTPError(400) from None
        if not isinstance(said, dict):
            raise web.HTTPError(400)
        self.service.board.note(self.who, said)
        self.write({})


class State(SeatHandler):
    """Tells a seat about itself."""

    def get(self) -> None:
        """Tell the last receipt of each lesson, and whether the hand is up."""
        last = {one.lesson: asdict(one) for one in self.service.receipts.of(self.who)}
        self.write({"receipts": last, "hand": bool(self.service.board.place(self.who).hand)})


def _hub_words(folder: ClassFolder) -> dict[str, str]:
    scopes = json.dumps(["access:services!service=class"])
    return {
        "JUPYTERHUB_API_TOKEN": folder.secret("service"),
        "JUPYTERHUB_API_URL": socket_url(folder.hub_socket) + "/hub/api",
        "JUPYTERHUB_BASE_URL": "/",
        "JUPYTERHUB_CLIENT_ID": "service-class",
        "JUPYTERHUB_OAUTH_ACCESS_SCOPES": scopes,
        "JUPYTERHUB_OAUTH_SCOPES": scopes,
        "JUPYTERHUB_OAUTH_CALLBACK_URL": f"{PREFIX}oauth_callback",
        "JUPYTERHUB_SERVICE_NAME": "class",
        "JUPYTERHUB_SERVICE_PREFIX": PREFIX,
    }


async def serve(folder: ClassFolder) -> None:
    """Keep the service until the process is ended."""
    service = Service(folder)
    service.open_seats()
    os.umask(0o077)
    folder.board_socket.unlink(missing_ok=True)
    pages = web.Application(
        board_pages.ways(PREFIX),
        service=service,
        cookie_secret=folder.secret("board"),
        xheaders=True,
    )
    board = HTTPServer(pages, xheaders=True)
    board.add_socket(bind_unix_socket(str(folder.board_socket), mode=0o600))
    os.umask(0o022)
    service.desk.wants_taking_in()
    while True:
        await asyncio.sleep(5)
        service.open_seats()
        with suppress(OSError):  # a full disk: the board is kept the next time
            service.board.save()
        service.tell("rows", service.rows())


def main() -> None:
    """Run the service of the class whose settings stand in the argument."""
    folder = ClassFolder(Cohort(Path(json.loads(sys.argv[1])["folder"])))
    os.environ.update(_hub_words(folder))
    asyncio.run(serve(folder))


if __name__ == "__main__":
    main()
