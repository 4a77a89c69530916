"""The marking of lesson 02: right is full for anybody, every slip is named, what is unsafe holds the lesson."""

from __future__ import annotations

from typing import Any

import pytest

from dryerbench.course.bench_card import faults_of, open_bench
from dryerbench.registry import sheet
from dryerbench.topics.two_legs.sheet import LESSON, PAIRS
from legtoleg.demo.simulated_letters import letters_of
from legtoleg.keys.answer_key import references, worked
from legtoleg.keys.reference import ChoiceReference
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome, signed_off

PAPER = sheet(LESSON)
IDS = [f"someone-{n}" for n in range(100)]
BY_NAME = {reference.question: reference for reference in references(LESSON)}
READ = tuple(("probe", {"a": a, "b": b}) for a, b in PAIRS.values())
ACTS: tuple[tuple[str, dict[str, Any]], ...] = (
    ("gear_on", {}),
    ("unplug", {}),
    ("prove_meter", {}),
    ("set_dial", {"mode": "low-impedance"}),
    *READ,
    ("prove_meter", {}),
    ("gear_off", {}),
)


def letters(name: str, apprentice: str, key: str) -> Found:
    typed = letters_of(PAPER.question(name), PAPER.card(apprentice), [key])
    return Found("letters", typed=typed, letters=typed)


def work(acts) -> Found:
    return Found("work", acts=tuple({"act": act, "with": given} for act, given in acts))


def volts(number: float) -> Found:
    return Found("quantity", number, "V", None, f"{number} V")


def read(apprentice: str, mode: str = "low-impedance") -> dict[str, Found]:
    """Return what the bench's meter shows on this apprentice's receptacle."""
    bench = open_bench(PAPER.card(apprentice))
    bench.do("gear_on")
    bench.do("unplug")
    return {key: volts(bench.measure(mode, *pair).value) for key, pair in PAIRS.items()}


def solved(apprentice: str) -> dict[str, Found]:
    card = PAPER.card(apprentice)
    right = worked(LESSON, card)
    found = {name: Found("quantity", right[name], PAPER.question(name).unit) for name in right}
    for name, reference in BY_NAME.items():
        if isinstance(reference, ChoiceReference):
            found[name] = letters(name, apprentice, *reference.right(card))
    return {
        **found,
        "receptacle_check": work(ACTS),
        "receptacle_readings": Found("readings", rows=read(apprentice)),
    }


def changed(apprentice: str, name: str, found: Found) -> Outcome:
    return mark_lesson(LESSON, apprentice, {name: found})[name]


def test_solved_is_full() -> None:
    for apprentice in IDS[:20]:
        marks = list(mark_lesson(LESSON, apprentice, solved(apprentice)).values())
        assert [mark.note for mark in marks] == ["right"] * len(PAPER.questions), apprentice
        assert signed_off(marks)


def test_a_case_believed_dead_holds_the_lesson() -> None:
    outcome = changed("demo-01", "strapped_case_volts", volts(0.0))
    assert (outcome.note, outcome.points, outcome.safety) == ("strap_holds_zero", 0, "held")


def test_phantom_volts_are_named_wherever_a_wire_hangs_free() -> None:
    seen = 0
    for apprentice in IDS:
        card = PAPER.card(apprentice)
        outcome = changed(apprentice, "receptacle_readings", Found("readings", rows=read(apprentice, "volts")))
        hanging = faults_of(card) in (("lost-leg-1",), ("lost-leg-2",), ("open-neutral",))
        assert outcome.note == ("phantom_read" if hanging else "right"), (apprentice, faults_of(card))
        seen += hanging
    assert seen > 20


def test_a_sound_receptacle_copied_from_the_book_does_not_do() -> None:
    rows = {"legs": volts(240.0), "leg-1": volts(120.0), "leg-2": volts(120.0)}
    for apprentice in IDS:
        card = PAPER.card(apprentice)
        outcome = changed(apprentice, "receptacle_readings", Found("readings", rows=rows))
        assert (outcome.note != "right") or not faults_of(card)


def without(*names: str) -> list[tuple[str, dict[str, Any]]]:
    return [(act, given) for act, given in ACTS if act not in names]


@pytest.mark.parametrize(
    ("acts", "note"),
    [
        (without("gear_on"), "unsafe_act"),
        (without("unplug"), "bad_trail"),  # the slots are covered while the plug is in
        (without("prove_meter"), "unsafe_act"),  # the gloves come off over live slots
        (without("prove_meter", "gear_off"), "meter_unproved+zero_not_confirmed"),
        (ACTS[:-2], "zero_not_confirmed"),
        ([*ACTS[:2], *ACTS[3:]], "meter_unproved"),
        (without("set_dial"), "pair_not_read"),
        ([*ACTS[:5], *ACTS[-2:]], "pair_not_read"),
        ([*ACTS[:-1], ("set_dial", {"mode": "ohms"}), READ[1]], "unsafe_act"),
    ],
)
def test_work_done_wrong(acts: list[tuple[str, dict[str, Any]]], note: str) -> None:
    apprentice = next(one for one in IDS if not faults_of(PAPER.card(one)))
    outcome = changed(apprentice, "receptacle_check", work(acts))
    assert (outcome.note, outcome.safety) == (note, "held")
    assert outcome.points < outcome.max_points


def test_gloves_are_asked_for_even_where_the_slots_turn_out_dead() -> None:
    for apprentice in IDS[:20]:
        outcome = changed(apprentice, "receptacle_check", work(without("gear_on")))
        assert outcome.note in ("unsafe_act", "bare_hands")
        assert outcome.safety == "held"
