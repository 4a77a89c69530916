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
from dryerbench.drawing.interactive_figure import MODE
from dryerbench.notebook import class_bar, course_path
from dryerbench.notebook import class_link as link_module
from dryerbench.notebook.class_bar import ClassBar, Page, saved_page
from dryerbench.notebook.class_link import VARIABLE, ClassAwayError, class_link, note

LESSON = "03_heater_power"


class Room(UnixStreamServer):
    """A class that takes everything."""

    def __init__(self, path: str) -> None:
        self.said: list[tuple[str, bytes]] = []
        self.full = False
        self.hand = True
        self.back: dict[str, dict[str, object]] = {}
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
        receipts = {LESSON: {"number": 1, "sha256": "ab"}}
        self._answer(200, {"hand": self.server.hand, "receipts": receipts, "back": self.server.back})

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


def test_the_bar_asks_again_and_tells_what_came_back(room: Room) -> None:
    link, told = class_link(), []
    bar = ClassBar(link, Page("ada-01", LESSON, str, dict), lambda: told.append(bar.news.bundle["text/plain"]))
    bar.receive({"want": "state"})
    assert (bar.asked, told, bar.hand) == (1, [], True)
    room.hand, room.back = False, {LESSON: {"feedback": 7, "card": 2, "signed": ""}}
    bar.receive({"want": "state"})
    bar.receive({"want": "state"})
    assert (bar.asked, len(told), bar.hand) == (3, 1, False)
    assert "lesson 03" in told[0]
    assert "card 2 is dealt" in told[0]
    room.shutdown()
    room.server_close()
    Path(link.path).unlink()  # type: ignore[union-attr]
    bar.receive({"want": "state"})
    assert (bar.asked, len(told), bar.hand) == (4, 1, False)


def test_the_start_page_has_a_hand_and_nothing_to_hand_in(room: Room) -> None:
    bar = ClassBar(class_link(), None)
    assert (bar.gives, bar.in_class, bar.hand, bar.said) == (False, True, True, "")
    bar.receive({"want": "hand-in"})
    assert [place for place, _ in room.said] == []


def test_the_start_page_draws_the_path_anew_when_something_came_back(
    room: Room, monkeypatch: pytest.MonkeyPatch
) -> None:
    bars: list[ClassBar] = []
    shown: list[list[str]] = []

    class Handle:
        def __init__(self, bundle: dict[str, str]) -> None:
            self.seen = [bundle["text/plain"]]
            shown.append(self.seen)

        def update(self, bundle: dict[str, str], raw: bool) -> None:
            self.seen.append(bundle["text/plain"])

    for module in (course_path, class_bar):
        monkeypatch.setattr(module, "display", lambda bundle, raw, display_id: Handle(bundle))
    monkeypatch.setattr(class_bar, "show_bundle", lambda bundle: None)
    honest = ClassBar.__init__
    monkeypatch.setattr(ClassBar, "__init__", lambda self, *words: (bars.append(self), honest(self, *words))[1])
    course_path.show_path()
    path, line = shown
    assert [len(path), line] == [1, [""]]
    bars[0].receive({"want": "state"})
    assert [len(path), line] == [1, [""]]
    room.back = {LESSON: {"feedback": 7, "card": 1, "signed": "2026-11-27"}}
    bars[0].receive({"want": "state"})
    assert len(path) == 2
    assert line[1:] == ["New from your instructor: lesson 03 · Heater power (signed off, feedback)."]
    monkeypatch.setenv(MODE, "still")
    monkeypatch.setattr(course_path, "display", lambda bundle, raw: shown.append([bundle["text/plain"]]))
    course_path.show_path()
    assert (len(bars), len(shown)) == (1, 3)


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
