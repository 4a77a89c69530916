"""The link to a class: nothing without a class; with one, receipts, notes, and plain words when it is away."""

from __future__ import annotations

import hashlib
import json
import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler
from pathlib import Path
from socketserver import UnixStreamServer

import pytest

from dryerbench.core.errors import LegToLegError
from dryerbench.notebook import class_link as link_module
from dryerbench.notebook.class_bar import ClassBar, Page, saved_page
from dryerbench.notebook.class_link import VARIABLE, ClassAwayError, class_link, note

LESSON = "03_heater_power"


class Room(UnixStreamServer):
    """A class that takes everything."""

    def __init__(self, path: str) -> None:
        self.said: list[tuple[str, bytes]] = []
        self.full = False
        super().__init__(path, Handler)


class Handler(BaseHTTPRequestHandler):
    server: Room

    def address_string(self) -> str:
        return "seat"

    def log_message(self, *_: object) -> None:
        pass

    def do_POST(self) -> None:
        body = self.rfile.read(int(self.headers.get("Content-Length", 0)))
        self.server.said.append((self.path, body))
        answer: dict[str, object] = {"apprentice": "ada-01", "lesson": LESSON, "number": 2, "size": len(body)}
        answer |= {"sha256": hashlib.sha256(body).hexdigest(), "at": "2026-11-27T01:00:00+00:00"}
        self._answer(507 if self.server.full else 200, {"said": "No room."} if self.server.full else answer)

    def do_GET(self) -> None:
        self._answer(200, {"hand": True, "receipts": {LESSON: {"number": 1, "sha256": "ab"}}})

    def _answer(self, status: int, content: dict[str, object]) -> None:
        text = json.dumps(content).encode()
        self.send_response(status)
        self.send_header("Content-Length", str(len(text)))
        self.end_headers()
        self.wfile.write(text)


@pytest.fixture
def room(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Room]:
    with Room(str(tmp_path / "class")) as server:
        threading.Thread(target=server.serve_forever, args=(0.01,), daemon=True).start()
        monkeypatch.setenv(VARIABLE, str(tmp_path / "class"))
        yield server
        server.shutdown()


def test_without_a_class_there_is_no_link_and_a_note_is_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(VARIABLE, raising=False)
    assert class_link() is None
    note("bench")


def test_the_bar_hands_the_saved_page_in_and_shows_the_receipt(
    room: Room, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = tmp_path / f"{LESSON}.ipynb"
    page.write_bytes(b"the page")
    monkeypatch.setenv("JPY_SESSION_NAME", str(page))
    monkeypatch.setattr("dryerbench.notebook.class_bar._SAVING", 0.0)
    link = class_link()
    assert link is not None
    bar = ClassBar(link, Page("ada-01", LESSON, lambda: "Not answered: 3.", dict))
    assert bar.hand
    assert "number 1" in bar.said
    bar.receive({"want": "hand-in"})
    assert ("/hand-in/" + LESSON, b"the page") in room.said
    assert hashlib.sha256(b"the page").hexdigest() in bar.said
    assert "number 2" in bar.said
    assert bar.said.endswith("Not answered: 3.")
    assert bar.in_class
    bar.receive({"want": "hand"})
    assert json.loads(room.said[-1][1]) == {"kind": "hand", "up": False}
    assert not bar.hand
    room.full = True
    bar.receive({"want": "hand-in"})
    assert (bar.said, bar.fine) == ("No room.", False)
    bar.receive("nonsense")


def test_a_class_that_is_away_took_nothing_and_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(VARIABLE, str(tmp_path / "nobody"))
    monkeypatch.setattr(link_module, "_PATIENCE", 0.0)
    link = class_link()
    assert link is not None
    with pytest.raises(ClassAwayError, match="Nothing was handed in"):
        link.hand_in(LESSON, b"page")
    assert not link.note("bench")
    assert link.state() == {}


def test_a_page_that_was_never_saved_is_asked_for(tmp_path: Path) -> None:
    with pytest.raises(LegToLegError, match=r"Ctrl \+ S"):
        saved_page(tmp_path / "none.ipynb", 0.0)
