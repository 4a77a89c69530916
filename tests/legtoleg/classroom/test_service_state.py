"""The class service's shared state: open boards are told what changed, and nothing is worked out for nobody."""

from __future__ import annotations

import asyncio
import json
from collections.abc import Iterator

import pytest

from legtoleg.classroom import service_state
from legtoleg.classroom.board_state import HERE
from legtoleg.classroom.class_folder import ClassFolder
from legtoleg.classroom.desk_work import work
from legtoleg.classroom.sealed_book import DoneAct, SealedBook, SupervisedError, book_of
from legtoleg.classroom.sealed_opening import asked_minutes, open_calls
from legtoleg.classroom.service_state import Service
from legtoleg.cohort.signed_off_note import note_signed

LESSON = "03_heater_power"


@pytest.fixture
def now() -> list[float]:
    return [1_000_000.0]


@pytest.fixture
def service(room: ClassFolder, now: list[float]) -> Service:
    made = Service(room)
    made.board.clock = lambda: now[0]
    made.people = {one.id: one for one in room.cohort.people()}
    return made


@pytest.fixture
def worked_out(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    found: list[str] = []
    honest = service_state.row
    monkeypatch.setattr(service_state, "row", lambda *words: (found.append(words[3].id), honest(*words))[1])
    return found


def heard(watcher: asyncio.Queue[str]) -> list[tuple[str, list[str]]]:
    """Return what the board was told since the last time: kind, and of whom."""
    found = []
    while not watcher.empty():
        kind, data = watcher.get_nowait().removeprefix("event: ").strip().split("\ndata: ")
        told = json.loads(data)
        found.append((kind, [one["id"] for one in (told if isinstance(told, list) else [told])]))
    return found


def test_with_no_board_open_no_row_is_worked_out(service: Service, worked_out: list[str]) -> None:
    service.tell_rows()
    service.board.note("ada-01", {"kind": "opened", "lesson": LESSON})
    service.tell_rows()
    assert worked_out == []


def test_an_open_board_is_told_what_changed_and_nothing_else(service: Service, now: list[float]) -> None:
    everybody = list(service.people)
    first: asyncio.Queue[str] = asyncio.Queue()
    service.watch(first)
    assert heard(first) == [("rows", everybody)]
    service.tell_rows()
    assert heard(first) == []
    service.board.note("ada-01", {"kind": "opened", "lesson": LESSON})
    assert heard(first) == [("row", ["ada-01"])]
    service.tell_rows()
    assert heard(first) == []  # it knows that already
    now[0] += HERE + 1
    service.tell_rows()
    assert heard(first) == [("row", ["ada-01"])]  # no longer here: time alone changed that
    note_signed(service.folder.cohort.folder / "feedback" / "bo-02", LESSON, signed=True)
    service.tell_rows()
    assert heard(first) == [("row", ["bo-02"])]


def test_a_second_board_leaves_the_first_one_right(service: Service, now: list[float]) -> None:
    first: asyncio.Queue[str] = asyncio.Queue()
    second: asyncio.Queue[str] = asyncio.Queue()
    service.board.note("ada-01", {"kind": "opened", "lesson": LESSON})
    service.watch(first)
    now[0] += HERE + 1
    heard(first)
    service.watch(second)
    assert heard(first) == heard(second) == [("rows", list(service.people))]


def test_someone_who_joins_or_leaves_is_told_as_a_whole(service: Service) -> None:
    watcher: asyncio.Queue[str] = asyncio.Queue()
    service.watch(watcher)
    heard(watcher)
    gone = service.people.pop("bo-02")
    service.tell_rows()
    assert heard(watcher) == [("rows", list(service.people))]
    service.people[gone.id] = gone
    service.tell_rows()
    assert heard(watcher) == [("rows", list(service.people))]


# --- supervised tests -------------------------------------------------------------------------------------------------


@pytest.fixture
def book(room: ClassFolder, now: list[float], service: Service) -> Iterator[SealedBook]:
    made = SealedBook.of(room)
    made.clock = lambda: now[0]
    service._book = made
    yield made
    made.close()


def acted(book: SealedBook, test: str, who: str, acts: int) -> None:
    for n in range(acts):
        book.write(test, who, "call_1", DoneAct(n, {"act": "unplug"}, "{}", book.now(), 0.0))


def test_no_book_is_made_by_looking(service: Service, room: ClassFolder) -> None:
    assert [one["test"] for one in service.rows()] == [None, None, None]
    assert not book_of(room).exists()
    open_calls(room, ["ada-01"], 30)
    assert [bool(one["test"]) for one in service.rows()] == [True, False, False]


def test_a_test_under_way_is_on_the_board_and_the_old_lesson_is_not_stuck(
    service: Service, book: SealedBook, now: list[float]
) -> None:
    service.board.note("ada-01", {"kind": "opened", "lesson": LESSON})
    for mark in "abcdef":
        service.board.note("ada-01", {"kind": "answered", "lesson": LESSON, "question": "run_drop", "mark": mark})
    test = book.open("calls", {"ada-01": {}, "bo-02": {}}, 90).test
    ada = service.rows()[0]
    assert ada["test"] == {"test": test, "kind": "calls", "acts": 0, "left": 90}
    assert str(ada["stuck"]).startswith("5 tries")  # still at the lesson: the test is not begun
    now[0] += 600
    acted(book, test, "ada-01", 3)
    ada, bo, cy = service.rows()
    assert ada["test"] == {"test": test, "kind": "calls", "acts": 3, "left": 80}
    assert (ada["stuck"], ada["here"], ada["last"]) == ("", True, now[0])  # no note came: the acts are the sign of life
    assert bo["test"] == {"test": test, "kind": "calls", "acts": 0, "left": 80}
    assert cy["test"] is None
    now[0] += 1
    assert service.rows()[0]["test"]["left"] == 80  # type: ignore[index]
    book.end(test, "ada-01")
    assert [bool(one["test"]) for one in service.rows()] == [False, True, False]
    now[0] += 90 * 60
    assert [one["test"] for one in service.rows()] == [None, None, None]
    again = book.open("calls", {"cy-03": {}}, 5).test
    assert service.rows()[2]["test"] == {"test": again, "kind": "calls", "acts": 0, "left": 5}
    book.end(again)
    assert service.rows()[2]["test"] is None


def test_a_damaged_book_stops_no_board(service: Service, room: ClassFolder) -> None:
    book_of(room).parent.mkdir(exist_ok=True)
    book_of(room).write_text("no book at all, and long enough to be read as one. " * 20)
    assert [one["test"] for one in service.rows()] == [None, None, None]


@pytest.mark.parametrize(("more", "minutes"), [("", 120), ("45", 45)])
def test_the_board_opens_a_test_for_as_long_as_it_was_asked(room: ClassFolder, more: str, minutes: int) -> None:
    said = work(room, "test-open", "ada-01", more)
    assert said.endswith(f"is open for ada-01, for {minutes} minutes.")
    assert [one.minutes for one in SealedBook.of(room).tests()] == [minutes]


@pytest.mark.parametrize("said", [None, 0, -5, 1441, 2.5, "90", True, float("nan"), [90]])
def test_minutes_that_cannot_be_open_no_test(said: object) -> None:
    assert [asked_minutes(one) for one in (1, 90, 1440)] == [1, 90, 1440]
    with pytest.raises(SupervisedError, match="1 to 1440 minutes"):
        asked_minutes(said)
