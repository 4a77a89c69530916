"""The class service's shared state: open boards are told what changed, and nothing is worked out for nobody."""

from __future__ import annotations

import asyncio
import json

import pytest

from legtoleg.classroom import service_state
from legtoleg.classroom.board_state import HERE
from legtoleg.classroom.class_folder import ClassFolder
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
