"""The sheet of lesson 02: the supply dealt to everybody, its questions, its practice and its models."""

from __future__ import annotations

from collections import Counter

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import Machine
from dryerbench.bench.situation import Situation
from dryerbench.bench.states import State
from dryerbench.bench.worksite import faults_on, situation_on
from dryerbench.circuits.solver import solve
from dryerbench.course.bench_card import faults_of, machine_of
from dryerbench.registry import TASKS, sheet
from dryerbench.topics.two_legs.sheet import LESSON, PAIRS, SOUND, TROUBLES

CARDS = [sheet(LESSON).card(f"someone-{n}") for n in range(200)]


def test_golden_supply() -> None:
    card = sheet(LESSON).card("demo-01")
    assert (card.leg_volts, card.load_ohms, card.cord, faults_of(card)) == (124.0, (11.5, 49.0), "four-wire", ())


def test_supplies_are_plausible_and_differ() -> None:
    assert len({(machine_of(card), card.load_ohms) for card in CARDS}) == 200
    for card in CARDS:
        assert 110.0 < card.leg_volts < 127.0
        assert max(card.load_ohms) > 3.3 * min(card.load_ohms), "else two slips lead to one number"
    dealt = Counter(faults_of(card) for card in CARDS)
    assert set(dealt) == {() if name == SOUND else (name,) for name in TROUBLES}
    assert min(dealt.values()) > 10


def test_the_card_never_says_what_is_the_matter() -> None:
    for card in CARDS:
        assert not any(name in repr(card) for name in TROUBLES)
        assert f"{card.leg_volts:g} V" in repr(card)
        assert ("four wires" if card.cord == "four-wire" else "three wires") in repr(card)


def low_impedance(card) -> tuple[float, ...]:
    bench = Bench(machine_of(card), faults_of(card))
    bench.do("unplug")
    return tuple(bench.meter.loaded_volts(situation_on(bench).live[pair], "low-impedance") for pair in PAIRS.values())


def named_by_the_table_of_the_lesson(legs: float, one: float, two: float, leg: float) -> str:
    """Name the trouble from the lesson's own table, in the words of a person who has nothing else."""
    none = [volts < 0.05 * leg for volts in (legs, one, two)]
    known = {(True, True, False): "lost-leg-1", (True, False, True): "lost-leg-2", (False, True, True): "open-neutral"}
    if tuple(none) in known:
        return known[tuple(none)]
    if abs(one - two) > 0.15 * leg:
        return "open-service-neutral"
    if legs / (one + two) < 0.93:
        return "supply-208"
    return "low-supply" if one + two < 1.86 * leg else SOUND


def test_the_table_of_the_lesson_names_every_trouble_dealt() -> None:
    for card in CARDS:
        assert (
            named_by_the_table_of_the_lesson(*low_impedance(card), card.leg_volts) == (faults_of(card) or (SOUND,))[0]
        )


def test_a_loose_neutral_puts_a_leg_on_a_strapped_case() -> None:
    for state in (State(), State(start_pressed=True)):
        bench = Situation(Machine(cord="three-wire"), faults_on(Bench(faults=["open-neutral"])), state)
        assert bench.case_volts == pytest.approx(120.0, rel=0.01)


def test_the_models_are_the_circuits() -> None:
    """Neutral whole and open, by the solver, on two loads at the service."""
    machine = Machine(house_watts=(300.0, 1200.0), service_ohms=1e-6, rod_ohms=(1e9, 1e9))
    loads = {"load_a": 120.0**2 / 300.0, "load_b": 120.0**2 / 1200.0}
    state = State(plugged=False)
    whole = solve(Situation(machine, (), state).circuit)
    assert abs(whole.amps("service neutral")) == pytest.approx(
        TASKS["neutral_amps"].value({"volts": 240.0, **loads}), rel=1e-4
    )
    opened = Situation(machine, faults_on(Bench(faults=["open-service-neutral"])), state).live
    assert abs(opened["panel-1", "panel-N"].volts) == pytest.approx(
        TASKS["open_neutral"].value({"volts": 240.0, **loads}), rel=1e-4
    )
