"""The class service: hand-ins and notes by each seat's own socket; the board by the hub's log-in."""

from __future__ import annotations

import asyncio
import json
import os
import sys
import time
from contextlib import suppress
from pathlib import Path

from tornado import web
from tornado.httpserver import HTTPServer
from tornado.netutil import bind_unix_socket

from legtoleg.classroom import board_pages
from legtoleg.classroom.class_folder import ClassFolder, socket_url
from legtoleg.classroom.seat_pages import seat_side
from legtoleg.classroom.service_state import Service
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.intake.notebook_repair import LARGEST_FILE

PREFIX = "/services/class/"
_ROUND_SECONDS = 5
"""How often the roster is read, and open boards are told what time alone has changed."""
_LOOK_SECONDS = 30
"""How often homes, memory and disk are looked at."""
HUB = "LEGTOLEG_HUB"
"""The environment variable with the hub's address, where it is on another computer."""


class SeatSockets:
    """The sockets of all seats; the roster may grow while the class runs."""

    def __init__(self, service: Service) -> None:
        self._service = service
        self._servers: dict[str, HTTPServer] = {}

    def open(self) -> bool:
        """Open the socket of everyone on the roster who has none yet; tell whether there was anyone."""
        self._service.read_roster()
        new = self._service.people.keys() - self._servers.keys()
        for who in new:
            place = self._service.folder.seat(who) / "service"
            place.mkdir(mode=0o711, parents=True, exist_ok=True)
            (place / "class").unlink(missing_ok=True)
            self._servers[who] = HTTPServer(seat_side(self._service, who), max_buffer_size=LARGEST_FILE + (1 << 20))
            self._servers[who].add_socket(bind_unix_socket(str(place / "class"), mode=0o666))
        return bool(new)


def _hub_words(folder: ClassFolder) -> dict[str, str]:
    scopes = json.dumps(["access:services!service=class"])
    return {
        "JUPYTERHUB_API_TOKEN": folder.secret("service"),
        "JUPYTERHUB_API_URL": (os.environ.get(HUB) or socket_url(folder.hub_socket)) + "/hub/api",
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
    seats = SeatSockets(service)
    owed = seats.open()
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
    looked, said = 0.0, service.short
    while True:
        await asyncio.sleep(_ROUND_SECONDS)
        owed = seats.open() or owed
        if owed:
            owed = not await asyncio.to_thread(service.deal)
        if time.monotonic() - looked > _LOOK_SECONDS:
            looked = time.monotonic()
            await asyncio.to_thread(service.look)
        if service.short != said:
            said = service.short
            service.tell("disk", said)
        with suppress(OSError):  # a full disk: the board is kept the next time
            service.board.save()
        service.tell_rows()


def main() -> None:
    """Run the service of the class whose settings stand in the argument."""
    folder = ClassFolder(Cohort(Path(json.loads(sys.argv[1])["folder"])))
    os.environ.update(_hub_words(folder))
    asyncio.run(serve(folder))


if __name__ == "__main__":
    main()
