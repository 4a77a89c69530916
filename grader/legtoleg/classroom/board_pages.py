"""The board's pages: the board, its live events, its buttons, the report and feedback; the instructor's alone."""

from __future__ import annotations

import asyncio
import hmac
import json

from jupyterhub.services.auth import HubOAuthCallbackHandler, HubOAuthenticated
from tornado import web
from tornado.iostream import StreamClosedError

from dryerbench.core.errors import KitError
from dryerbench.core.identity import checked_id
from dryerbench.registry import SHEETS
from legtoleg.classroom.class_folder import INSTRUCTOR
from legtoleg.classroom.desk import WORDS
from legtoleg.classroom.sealed_book import SupervisedError
from legtoleg.classroom.sealed_opening import LONGEST_TEST, TEST_MINUTES, asked_minutes
from legtoleg.classroom.service_state import Service
from legtoleg.core.page_templates import template

_QUIET = 15
"""Seconds after which a line goes out that keeps the connection open."""


class BoardHandler(HubOAuthenticated, web.RequestHandler):  # type: ignore[misc]
    """A request for the board: the instructor's, by the hub's log-in, or refused."""

    @property
    def service(self) -> Service:
        """What all handlers share."""
        shared: Service = self.settings["service"]
        return shared

    @property
    def token(self) -> str:
        """What a button of this class's board has to bring along."""
        return hmac.new(self.service.folder.secret("board").encode(), b"buttons", "sha256").hexdigest()

    def prepare(self) -> None:
        """Refuse everybody else."""
        user = self.current_user
        if user is not None and user["name"] != INSTRUCTOR:
            raise web.HTTPError(403)

    def set_default_headers(self) -> None:
        """Let no other page frame this one, and nothing keep it."""
        self.set_header("Cache-Control", "no-store")
        self.set_header("X-Frame-Options", "DENY")


class Page(BoardHandler):
    """The board."""

    @web.authenticated
    def get(self) -> None:
        """Show it."""
        lessons = {name: f"{name[:2]} · {sheet.title}" for name, sheet in SHEETS.items()}
        told = {
            "rows": self.service.rows(),
            "desk": self.service.desk.said,
            "disk": self.service.short,
            "lessons": lessons,
            "minutes": TEST_MINUTES,
            "longest": LONGEST_TEST,
            "token": self.token,
            "xsrf": self.xsrf_token.decode("ascii"),
        }
        name = self.service.folder.cohort.folder.name
        page = template("classroom/board.html").render(cohort=name, lessons=lessons, told=told)
        self.write(page)


class Live(BoardHandler):
    """The board's events."""

    @web.authenticated
    async def get(self) -> None:
        """Tell what changes, until the page is closed."""
        self.set_header("Content-Type", "text/event-stream")
        events: asyncio.Queue[str] = asyncio.Queue()
        self.service.watch(events)
        try:
            self.write("retry: 2000\n\n")
            await self.flush()
            while True:
                try:
                    self.write(await asyncio.wait_for(events.get(), _QUIET))
                except TimeoutError:
                    self.write(": still here\n\n")
                await self.flush()
        except StreamClosedError:
            pass
        finally:
            self.service.watchers.discard(events)


class Act(BoardHandler):
    """The board's buttons."""

    @web.authenticated
    def post(self) -> None:
        """Do what a button asks for."""
        if not hmac.compare_digest(self.request.headers.get("X-Board", ""), self.token):
            raise web.HTTPError(403)
        asked = json.loads(self.request.body[:2000])
        what, who, lesson = (str(asked.get(name, "")) for name in ("what", "who", "lesson"))
        if what == "hand-down" and who in self.service.people:
            self.service.board.lower_hand(who)
        elif what == "deal" and who in self.service.people and lesson in SHEETS:
            self.service.desk.wants(what, who, lesson)
        elif what == "test-open" and (not who or who in self.service.people):
            try:
                self.service.desk.wants(what, who, str(asked_minutes(asked.get("minutes"))))
            except SupervisedError:
                raise web.HTTPError(400) from None
        elif what in WORDS and what != "deal" and not who:
            self.service.desk.wants(what)
        else:
            raise web.HTTPError(400)
        self.write({})


class File(BoardHandler):
    """The report, and feedback pages: shown in a sandbox, because what others wrote stands in them."""

    @web.authenticated
    def get(self, who: str = "", lesson: str = "") -> None:
        """Show one."""
        cohort = self.service.folder.cohort
        path = cohort.folder / "report.html"
        if who:
            try:
                path = cohort.feedback(checked_id(who), lesson)
            except KitError:
                raise web.HTTPError(404) from None
        if not path.is_file():
            self.set_status(404)
            self.write("It is not there yet: press the button on the board first.")
            return
        self.set_header("Content-Type", "text/html; charset=utf-8")
        self.set_header("Content-Security-Policy", "sandbox allow-scripts allow-popups")
        self.write(path.read_bytes())


def ways(prefix: str) -> list[tuple[str, type[web.RequestHandler]]]:
    """Return which path is whose."""
    return [
        (prefix, Page),
        (f"{prefix}live", Live),
        (f"{prefix}act", Act),
        (f"{prefix}report.html", File),
        (rf"{prefix}feedback/([^/]{{1,64}})/([0-9a-z_]{{1,60}})/[0-9a-z_]{{1,60}}\.html", File),
        (f"{prefix}oauth_callback", HubOAuthCallbackHandler),
    ]
