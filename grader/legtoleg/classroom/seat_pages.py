"""What a seat may ask of the class by its own socket: take a page, take a note, tell how it stands."""

from __future__ import annotations

import json
from dataclasses import asdict

from tornado import web

from dryerbench.registry import SHEETS
from legtoleg.classroom.board_rows import given_back
from legtoleg.classroom.service_state import Service
from legtoleg.intake.notebook_repair import LARGEST_FILE

_LARGEST_NOTE = 4_000


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
        self.service.board.note(self.who, {"kind": "handed in"})
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
        """Tell the last receipt of each lesson, whether the hand is up, what came back, what goes short in the seat."""
        last = {one.lesson: asdict(one) for one in self.service.receipts.of(self.who)}
        hand = bool(self.service.board.place(self.who).hand)
        back = given_back(self.service.folder.cohort, self.who)
        trouble = self.service.troubles.get(self.who, "")
        self.write({"receipts": last, "hand": hand, "back": back, "trouble": trouble})


def seat_side(service: Service, who: str) -> web.Application:
    """Return what listens on the socket of ``who``."""
    ways = [(r"/hand-in/([0-9]{2}_[a-z_]{1,60})", HandIn), ("/note", Note), ("/state", State)]
    return web.Application(ways, service=service, who=who)
