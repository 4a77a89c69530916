from __future__ import annotations

import asyncio
import json
from pathlib import Path

import pytest
from tornado.httpclient import AsyncHTTPClient
from tornado.httpserver import HTTPServer
from tornado.netutil import bind_sockets

from dryerbench.registry import SHEETS
from legtoleg.classroom.board_rows import given_back, row
from legtoleg.classroom.board_state import HERE, STUCK_SECONDS, Board
from legtoleg.classroom.class_folder import ClassFolder
from legtoleg.classroom.receipts import Receipts
from legtoleg.classroom.seat_pages import seat_side
from legtoleg.classroom.service_state import Service
from legtoleg.cohort.signed_off_note import note_signed, note_try

LESSON = "03_heater_power"


@pytest.fixture
def now() -> list[float]:
    return [1_000_000.0]


@pytest.fixture
def board(tmp_path: Path, now: list[float]) -> Board:
    return Board(tmp_path / "board.json", lambda: now[0])


def test_answers_are_counted_once(board: Board) -> None:
    for question in ("breaker_limit", "breaker_limit", "run_drop", "no_such_question"):
        board.note("ada-01", {"kind": "answered", "lesson": LESSON, "question": question})
    assert board.place("ada-01").answered == {LESSON: ["breaker_limit", "run_drop"]}


def test_many_tries_at_one_thing_are_stuck_and_a_new_answer_is_not(board: Board, now: list[float]) -> None:
    for _ in range(5):
        board.note("ada-01", {"kind": "answered", "lesson": LESSON, "question": "breaker_limit"})
    title = next(one.title for one in SHEETS[LESSON].questions if one.name == "breaker_limit")
    assert board.place("ada-01").stuck(now[0]) == f"4 tries at “{title}”"
    board.note("ada-01", {"kind": "answered", "lesson": LESSON, "question": "run_drop"})
    assert board.place("ada-01").stuck(now[0]) == ""


def test_long_without_getting_on_is_stuck_while_somebody_is_here(board: Board, now: list[float]) -> None:
    board.note("ada-01", {"kind": "opened", "lesson": LESSON})
    for _ in range(4):
        now[0] += STUCK_SECONDS / 4
        board.note("ada-01", {"kind": "bench"})
    assert board.place("ada-01").stuck(now[0]) == "12 min at “the text”"
    now[0] += HERE + 1
    assert board.place("ada-01").stuck(now[0]) == ""  # gone: nothing was heard for long


@pytest.mark.parametrize("away", [HERE + 1, 3600, 16 * 3600], ids=["break", "lunch", "night"])
@pytest.mark.parametrize("back", ["opened", "bench", "handed in"])
def test_a_break_is_not_time_without_getting_on(board: Board, now: list[float], away: float, back: str) -> None:
    board.note("ada-01", {"kind": "opened", "lesson": LESSON})
    now[0] += 200
    board.note("ada-01", {"kind": "bench"})
    now[0] += away
    board.note("ada-01", {"kind": back, "lesson": LESSON} if back == "opened" else {"kind": back})
    assert board.place("ada-01").stuck(now[0]) == ""
    for _ in range(3):
        now[0] += 200
        board.note("ada-01", {"kind": "bench"})
    assert board.place("ada-01").stuck(now[0]) == ""  # ten minutes since then
    now[0] += 200
    board.note("ada-01", {"kind": "bench"})
    assert board.place("ada-01").stuck(now[0]).startswith("13 min at")


def test_tries_of_yesterday_are_not_told_of_a_lesson_opened_again(board: Board, now: list[float]) -> None:
    for mark in "abcdef":
        board.note("ada-01", {"kind": "answered", "lesson": LESSON, "question": "run_drop", "mark": mark})
    assert board.place("ada-01").stuck(now[0]).startswith("5 tries")
    now[0] += 60
    board.note("ada-01", {"kind": "opened", "lesson": LESSON})
    assert board.place("ada-01").stuck(now[0]).startswith("5 tries")  # the same sitting
    now[0] += 16 * 3600
    board.note("ada-01", {"kind": "opened", "lesson": LESSON})
    assert board.place("ada-01").stuck(now[0]) == ""


def test_the_same_answer_again_is_no_try(board: Board, now: list[float], tmp_path: Path) -> None:
    said = {"kind": "answered", "lesson": LESSON, "question": "run_drop", "mark": "a1"}
    for _ in range(5):  # as *Run All* does it
        board.note("ada-01", {"kind": "opened", "lesson": LESSON})
        board.note("ada-01", said)
    assert (board.place("ada-01").tries, board.place("ada-01").stuck(now[0])) == (0, "")
    board.save()
    again = Board(tmp_path / "board.json", lambda: now[0])
    again.note("ada-01", said)
    assert again.place("ada-01").tries == 0
    for mark in ("b2", "a1", "b2", "a1"):
        again.note("ada-01", said | {"mark": mark})
    assert again.place("ada-01").stuck(now[0]).startswith("4 tries at")


def test_a_hand_taken_down_by_the_instructor_is_no_sign_of_life(board: Board, now: list[float]) -> None:
    board.note("ada-01", {"kind": "hand", "up": True})
    came, now[0] = now[0], now[0] + 1000
    board.lower_hand("ada-01")
    assert (board.place("ada-01").hand, board.place("ada-01").last) == (0.0, came)


def test_minutes_on_the_bench_leave_breaks_out(board: Board, now: list[float]) -> None:
    for pause in (0, 60, 60, 3000, 30):
        now[0] += pause
        board.note("ada-01", {"kind": "bench"})
    assert board.place("ada-01").bench == 150


def test_a_restart_forgets_nothing(board: Board, tmp_path: Path) -> None:
    board.note("ada-01", {"kind": "hand", "up": True})
    board.note("ada-01", {"kind": "opened", "lesson": LESSON})
    board.save()
    assert Board(tmp_path / "board.json").places == board.places
    (tmp_path / "board.json").write_text("{damaged")
    assert Board(tmp_path / "board.json").places == {}


@pytest.mark.parametrize(
    "said",
    [
        {},
        {"kind": 7},
        {"kind": "hand", "up": "yes"},
        {"kind": "opened", "lesson": "../x"},
        {"kind": "answered", "lesson": [1], "question": {}},
    ],
)
def test_strange_notes_change_nothing(board: Board, said: dict[str, object]) -> None:
    board.note("ada-01", said)
    place = board.place("ada-01")
    assert (place.lesson, place.answered, place.hand) == ("", {}, 0.0)


def test_a_row_holds_what_the_page_shows(room: ClassFolder, board: Board) -> None:
    person = room.cohort.people()[0]
    receipts = Receipts(room)
    receipts.keep(person.id, LESSON, b"page")
    board.note(person.id, {"kind": "answered", "lesson": LESSON, "question": "run_drop"})
    feedback = room.cohort.folder / "feedback" / person.id
    note_signed(feedback, "01_made_dead", signed=True)
    note_try(feedback, LESSON, 2)
    made = row(room.cohort, board, receipts, person)
    assert (made["answered"], made["questions"], made["here"]) == (1, len(SHEETS[LESSON].questions), True)
    assert (made["signed"], made["cards"]) == (["01_made_dead"], {LESSON: 2})
    assert [one["number"] for one in made["handed"]] == [1]  # type: ignore[attr-defined]


def test_a_seat_is_told_what_came_back(room: ClassFolder) -> None:
    person = room.cohort.people()[0]
    assert given_back(room.cohort, person.id) == {}
    feedback = room.cohort.folder / "feedback" / person.id
    note_signed(feedback, "01_made_dead", signed=True)
    note_try(feedback, LESSON, 2)
    page = room.cohort.feedback(person.id, LESSON)
    page.parent.mkdir(parents=True, exist_ok=True)
    page.write_text("feedback")
    told = given_back(room.cohort, person.id)
    assert set(told) == {"01_made_dead", LESSON}
    assert told[LESSON] == {"feedback": page.stat().st_mtime_ns, "card": 2, "signed": ""}
    assert (told["01_made_dead"]["feedback"], bool(told["01_made_dead"]["signed"])) == (0, True)
    assert given_back(room.cohort, room.cohort.people()[1].id) == {}


def test_the_state_that_a_seat_asks_for_says_so_too(room: ClassFolder) -> None:
    service, person = Service(room), room.cohort.people()[0]
    note_try(room.cohort.folder / "feedback" / person.id, LESSON, 2)
    service.board.note(person.id, {"kind": "hand", "up": True})

    async def asked() -> dict[str, object]:
        server, (listener,) = HTTPServer(seat_side(service, person.id)), bind_sockets(0, "127.0.0.1")
        server.add_sockets([listener])
        got = await AsyncHTTPClient().fetch(f"http://127.0.0.1:{listener.getsockname()[1]}/state")
        server.stop()
        await server.close_all_connections()
        return dict(json.loads(got.body))

    told = asyncio.run(asked())
    assert told["hand"] is True
    assert told["back"] == {LESSON: {"feedback": 0, "card": 2, "signed": ""}}
