"""Answer entries and boxes on a live page: kept, read again the next day, in step with the code cell and the bench."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from dryerbench.core import identity
from dryerbench.notebook import answer_entry, kept_bench, work_log
from dryerbench.notebook.answer_box import AnswerBox, menu_of, value_of
from dryerbench.notebook.answer_entry import AnswerEntry
from dryerbench.notebook.answer_record import MIME
from dryerbench.notebook.kept_bench import open_bench
from dryerbench.notebook.running_cell import RunningCell
from dryerbench.registry import sheet

POWER, LEGS, CALL = "03_heater_power", "02_two_legs", "10_call_to_close"


class Handle:
    """What shows an output, and what it shows now."""

    def __init__(self) -> None:
        self.shows: dict[str, Any] = {}

    def update(self, bundle: dict[str, Any], *, raw: bool) -> None:
        assert raw
        self.shows = bundle


@pytest.fixture
def live(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> pytest.MonkeyPatch:
    (tmp_path / identity.MARK).write_text('{"apprentice": "demo-01"}')
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(answer_entry, "get_ipython", object)
    monkeypatch.setattr(kept_bench, "show_bundle", lambda _: None)
    monkeypatch.setattr(kept_bench, "_OPEN", {})
    monkeypatch.setattr(work_log, "_LOGS", {})
    return monkeypatch


def entry(lesson: str, name: str, value: object) -> AnswerEntry:
    paper = sheet(lesson)
    return AnswerEntry(paper.question(name), paper.card("demo-01"), value)


def test_a_box_says_how_it_was_read_and_is_there_the_next_day(live: pytest.MonkeyPatch) -> None:
    box = AnswerBox(entry(POWER, "element_current", ""), lambda _: None)
    assert (box.value, box.boxed, box.fine) == ("", False, False)
    box.receive({"value": "240 V / 27 ohm", "turn": 3})
    assert "8.89 A, from 240 V / 27 ohm" in box.said
    assert (box.boxed, box.fine, box.turn) == (True, True, 3)
    again = entry(POWER, "element_current", "")
    assert again.by_box
    assert value_of(again) == "240 V / 27 ohm"
    assert again.taken.record["working"] == "240 V / 27 ohm"


def test_what_cannot_be_read_is_asked_about_and_still_there(live: pytest.MonkeyPatch) -> None:
    box = AnswerBox(entry(POWER, "element_current", ""), lambda _: None)
    box.receive({"value": "9 acres"})
    assert "could not be read" in box.said
    assert not box.fine
    assert value_of(entry(POWER, "element_current", "")) == "9 acres"


def test_the_code_cell_counts_once_it_says_something_new(live: pytest.MonkeyPatch) -> None:
    entry(POWER, "element_current", "9 A").type_in("8.8 A")
    assert entry(POWER, "element_current", "9 A").taken.record["typed"] == "8.8 A"
    newer = entry(POWER, "element_current", "9.1 A")
    assert newer.taken.record["typed"] == "9.1 A"
    assert value_of(newer) == "9.1 A"


def test_a_box_taken_back_stays_taken_back(live: pytest.MonkeyPatch) -> None:
    for empty in (None, "", {"a": ""}):
        one = entry(POWER, "element_current", "9 A")
        one.type_in("8.8 A")
        one.type_in(empty)
        assert entry(POWER, "element_current", "9 A").taken.record["typed"] == "9 A"


def test_letters_rows_and_orders_are_offered(live: pytest.MonkeyPatch) -> None:
    strap = entry(LEGS, "frame_strap", "")
    menu = menu_of(strap.question, strap.card)
    assert [letter for letter, _ in menu["options"]] == [*"abcdefgh"][: len(menu["options"])]
    table = entry(LEGS, "receptacle_readings", {})
    rows = menu_of(table.question, table.card)["rows"]
    assert rows == ["Leg 1 to leg 2", "Leg 1 to neutral", "Leg 2 to neutral"]
    table.type_in({rows[0]: "239.5 V", rows[1]: "", rows[2]: "OL"})
    assert value_of(table) == {rows[0]: "239.5 V", rows[1]: "", rows[2]: "OL"}
    order = entry(CALL, "call_fault", ("", None))
    order.type_in("b")
    assert value_of(order) == "b"


def test_an_answer_follows_its_bench(live: pytest.MonkeyPatch) -> None:
    live.setattr(kept_bench, "running_cell", lambda: RunningCell("open", "1"))
    bench = open_bench(sheet(LEGS).card("demo-01"))
    live.setattr(kept_bench, "running_cell", lambda: None)
    shown = Handle()
    one = entry(LEGS, "receptacle_check", bench)
    one.shown_by(shown)
    assert one.taken.odd is None
    bench.do("gear_on")
    bench.do("unplug")
    assert [act["act"] for act in shown.shows[MIME]["acts"]] == ["gear_on", "unplug"]
    assert one.taken.fine
    bench.start_again()
    assert shown.shows[MIME]["kind"] == "blank"


def test_a_letter_goes_in_with_the_bench_it_rests_on(live: pytest.MonkeyPatch) -> None:
    live.setattr(kept_bench, "running_cell", lambda: RunningCell("open", "1"))
    bench = open_bench(sheet(CALL).card("demo-01"))
    live.setattr(kept_bench, "running_cell", lambda: None)
    one = entry(CALL, "call_fault", ("", bench))
    one.type_in("c")
    assert "Nothing was done on the bench yet" in one.taken.said or one.taken.odd is None
    bench.do("unplug")
    assert (one.taken.record["letters"], len(one.taken.record["acts"])) == ("c", 1)


def test_strange_messages_are_read_as_text(live: pytest.MonkeyPatch) -> None:
    box = AnswerBox(entry(POWER, "element_current", ""), lambda _: None)
    for strange in ({"value": 7, "turn": "x"}, "text", None, {"value": ["a"]}, {"value": "9" * 10_000}):
        box.receive(strange)
        assert isinstance(box.value, str)
    table = AnswerBox(entry(LEGS, "receptacle_readings", {}), lambda _: None)
    table.receive({"value": "no table"})
    assert "could not be read" in table.said
    table.receive({"value": {"x": 1, "Leg 1 to leg 2": 240}})
    assert "could not be read" in table.said
