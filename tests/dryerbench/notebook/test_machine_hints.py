"""Hints, names and paths of a machine not seen before: places are said, never the name of a terminal or a part."""

from __future__ import annotations

import re

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import on_the_bench
from dryerbench.diagnosis.machine_calls import told_call, told_calls
from dryerbench.diagnosis.machine_menu import Reading, menu
from dryerbench.diagnosis.machine_search import title_on
from dryerbench.family.machine import standard
from dryerbench.family.settings import read_setting
from dryerbench.family.shelf import arrangement, machine_names
from dryerbench.notebook.machine_hints import Search, reading_words, state_words, value_words
from dryerbench.notebook.machine_names import MachineNames, own_names


def searching(number: int) -> Search:
    call = told_call(number)
    bench = Bench(call.machine, call.faults)
    return Search(call, bench, own_names(bench, named=False))


def leaks(names: MachineNames, words: str) -> list[str]:
    """Return the names of terminals and wires of a machine that stand in ``words``."""
    made = names.own.arrangement
    known = {*made.points, *(wire.name for wire in made.wires)} - {"G", "N"}
    return [name for name in known if re.search(rf"(?<![\w.]){re.escape(name)}(?![\w.])", words)]


@pytest.mark.parametrize("name", machine_names())
def test_no_reading_of_any_machine_is_said_by_the_name_of_a_terminal(name: str) -> None:
    made = arrangement(name)
    names = own_names(Bench(on_the_bench(standard(made))), named=False)
    said = [reading_words(names, one) for one in menu(made)]
    assert not [words for words in said if leaks(names, words) or "a place" in words or "." in words]
    assert len(set(said)) > len(said) / 2
    assert leaks(names, f"read ohms at {made.box_terminals[0]} and L1")


@pytest.mark.parametrize("number", range(1, len(told_calls()) + 1))
def test_no_name_that_is_offered_has_a_terminal_in_it(number: int) -> None:
    search = searching(number)
    assert not leaks(search.names, "; ".join(word for word in search.offers if not word.startswith("leg ")))
    assert {title_on(name) for name in search.call.names} <= set(search.offers)


def test_hints_are_counted_and_names_are_judged() -> None:
    search = searching(10)
    assert search.hint().startswith("Hint 1: ")
    assert search.hint().startswith("Hint 2: ")
    right = title_on(search.call.names[0])
    assert "do not leave only this one. They also fit: " in search.name(right)
    wrong = next(words for words in search.offers if words != right)
    assert search.name(wrong).startswith(f"Not: {wrong}. ")


@pytest.mark.parametrize("number", [2, 10])
def test_paths_stand_side_by_side_without_a_terminal(number: int) -> None:
    search = searching(number)
    search.bench.do("unplug")
    search.bench.ohms("plug-1", "plug-2")
    said = search.paths()
    assert said.startswith("Your path: 1 reading, ")
    assert "  1. ohms, plug blade" in said
    assert title_on(search.call.names[0]) in said
    assert re.search(r"Our suggested way: [1-9]\d* steps, \d+ minutes", said)
    assert not leaks(search.names, said)


def test_what_a_call_leaves_is_said_once_nothing_tells_more(monkeypatch: pytest.MonkeyPatch) -> None:
    search = searching(10)
    monkeypatch.setattr("dryerbench.notebook.machine_hints.next_reading", lambda *_: None)
    assert "no reading rules out much more. What is left: " in search.hint()


def test_a_live_hint_says_whose_work_it_is(monkeypatch: pytest.MonkeyPatch) -> None:
    search = searching(10)
    live = next(one for one in menu(search.call.made) if one.live)
    monkeypatch.setattr(
        "dryerbench.notebook.machine_hints.next_reading", lambda *_: type("Advice", (), {"reading": live})()
    )
    assert "qualified person, rated gloves, one hand, never alone" in search.hint()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("off", "plug out"),
        ("alone high", "plug out, control at high, wires off at both"),
        ("box free", "plug out, every wire off the heater box"),
        ("alone, held at 284 F", "plug out, wires off at both, held at 284 °F"),
        ("alone, door open", "plug out, wires off at both, door open"),
        ("off, wiggled", "plug out, wires wiggled"),
        ("run air", "running, control at air fluff"),
        ("plugged", "plugged in, not running"),
    ],
)
def test_how_the_machine_stands(words: str, said: str) -> None:
    assert state_words(read_setting(words)) == said


def test_values() -> None:
    assert value_words(Reading("ohms", ("L1", "L2"), "off"), 7.6) == "OL"
    assert value_words(Reading("ohms", ("L1", "L2"), "off"), 1.0) == "9.5 Ω"
    assert value_words(Reading("low-impedance", ("outlet-1", "outlet-2"), "off"), 240.2) == "240 V"
    assert value_words(Reading("warmth", ("exhaust",), "run high"), 60.0) == "140 °F"
    assert value_words(Reading("look", ("box",), "off"), 1.0) == ""
