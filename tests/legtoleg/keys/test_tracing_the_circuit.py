"""Lesson 07's references: solved is full, every slip is named, unsafe is held."""

from __future__ import annotations

from typing import Any

import pytest

from dryerbench.course.bench_card import faults_of, machine_of, open_bench
from dryerbench.notebook.forms import receive
from dryerbench.registry import TASKS, sheet
from dryerbench.topics.tracing_the_circuit.heater_line import CONTACTS
from dryerbench.topics.tracing_the_circuit.sheet import LESSON
from dryerbench.topics.tracing_the_circuit.slips import SLIPS as OWN_SLIPS
from legtoleg.demo.simulated_letters import an_order, letters_of
from legtoleg.keys.answer_key import quantities, references, worked
from legtoleg.keys.reference import OrderReference
from legtoleg.keys.tracing_the_circuit import _along
from legtoleg.marking.answer_parsing import Found, read_record
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome, signed_off

PAPER = sheet(LESSON)
IDS = [f"anyone-{n}" for n in range(100)]
REFERENCE = {reference.question: reference for reference in references(LESSON)}
CARDS = {apprentice: PAPER.card(apprentice) for apprentice in IDS}
DEAD = ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off")
LETTERED = ("traced_open", "zero_volts", "next_reading", "dead_trace", "live_work")


def handed_in(name: str, card: Any, value: object) -> Found:
    return read_record(receive(PAPER.question(name), card, value).record, name)


def lettered(name: str, card: Any, keys: list[str]) -> Found:
    return handed_in(name, card, letters_of(PAPER.question(name), card, keys))


def right_keys(name: str, card: Any) -> list[str]:
    reference = REFERENCE[name]
    if isinstance(reference, OrderReference):
        return an_order(PAPER.question(name), reference, card)
    return sorted(reference.right(card))


def opened(card: Any, *, heat: bool = True) -> Any:
    bench = open_bench(card)
    for act in (*DEAD, *(["ask_heat"] if heat else [])):
        bench.do(act)
    return bench


def halved(card: Any) -> Any:
    """Return the bench after the fewest readings: the whole, half, a contact of the open half."""
    bench = opened(card)
    bench.ohms("L1", "H8")
    first = bench.ohms("L1", "H4").shown == "OL"
    a, b, c, d = ("H1", "H2", "H3", "H4") if first else ("H5", "H6", "H7", "H8")
    if bench.ohms(a, b).shown != "OL":
        bench.ohms(c, d)
    return bench


def named(card: Any, key: str, bench: Any) -> Found:
    return handed_in("open_part", card, (letters_of(PAPER.question("open_part"), card, [key]), bench))


def predicted(card: Any, lit: str = "", dark: str = "0 V") -> dict[str, str]:
    rows = _along(card)
    lit = lit or f"{card.supply_volts} V"
    return {f"L2 to {key.removeprefix('L2-')}": dark if one.low == 0 else lit for key, one in rows.items()}


def solved(apprentice: str) -> dict[str, Found]:
    card = CARDS[apprentice]
    right = worked(LESSON, card)
    found = {
        one.question: Found("quantity", right[one.question], PAPER.question(one.question).unit)
        for one in quantities(LESSON)
    }
    found |= {name: lettered(name, card, right_keys(name, card)) for name in LETTERED}
    found["along_the_line"] = handed_in("along_the_line", card, predicted(card))
    found["open_part"] = named(card, faults_of(card)[0], halved(card))
    return found


def marked(apprentice: str, name: str, found: Found) -> Outcome:
    return mark_lesson(LESSON, apprentice, {name: found})[name]


def test_solved_is_full_and_untouched_is_nothing() -> None:
    for apprentice in IDS[:20]:
        full = list(mark_lesson(LESSON, apprentice, solved(apprentice)).values())
        assert [one.question for one in full if one.points != one.max_points] == [], apprentice
        assert signed_off(full)
    assert all(one.points == 0 for one in mark_lesson(LESSON, "anyone-1", {}).values())


def test_another_valid_order_earns_full_marks() -> None:
    card = CARDS["anyone-1"]
    late = ["prove_first", "power_off", "call_heat", "test_dead", "prove_again", "diagram", "cover_off"]
    outcome = marked("anyone-1", "dead_trace", lettered("dead_trace", card, [*late, "whole", "half", "alone"]))
    assert (outcome.note, outcome.safety) == ("right", "clear")


def test_the_line_turned_round_or_at_one_leg_is_named() -> None:
    for apprentice, card in CARDS.items():
        turned = predicted(card, lit="0 V", dark=f"{card.supply_volts} V")
        outcome = marked(apprentice, "along_the_line", handed_in("along_the_line", card, turned))
        assert outcome.note == "line_turned_round"
        one_leg = predicted(card, lit=f"{card.supply_volts / 2} V", dark=f"{card.supply_volts / 2} V")
        outcome = marked(apprentice, "along_the_line", handed_in("along_the_line", card, one_leg))
        assert outcome.note == "one_leg_along_the_line"


def test_the_predicted_line_is_what_the_bench_would_read() -> None:
    from dryerbench.topics.tracing_the_circuit.heater_line import heating, volts

    for card in list(CARDS.values())[:25]:
        now = heating(machine_of(card), card.planned_open)
        for key, one in _along(card).items():
            assert one.low <= volts(now, "L2", key.removeprefix("L2-")) <= one.high


def test_wrong_names_thin_evidence_and_full_evidence() -> None:
    for apprentice, card in CARDS.items():
        bench = halved(card)
        for key in CONTACTS:
            outcome = marked(apprentice, "open_part", named(card, key, bench))
            if key in faults_of(card):
                assert outcome.note == "right"
                continue
            wanted = "motor_contact_at_rest" if key.startswith("motor") else "neighbour_named"
            assert (outcome.note, outcome.points, outcome.safety) == (wanted, 0.0, "held")
        thin = opened(card)
        thin.ohms("L1", "H8")
        outcome = marked(apprentice, "open_part", named(card, faults_of(card)[0], thin))
        assert (outcome.note, outcome.points, outcome.safety) == ("open_not_singled_out", 3.0, "clear")


def test_readings_with_the_control_off_are_thin() -> None:
    apprentice, card = next(item for item in CARDS.items() if faults_of(item[1]) == ("control-open",))
    bench = opened(card, heat=False)
    bench.ohms("H1", "H2")
    outcome = marked(apprentice, "open_part", named(card, "control-open", bench))
    assert outcome.note == "open_not_singled_out"


def test_ohms_on_a_live_machine_or_a_cover_off_too_early_is_unsafe() -> None:
    card = CARDS["anyone-1"]
    early = open_bench(card)
    early.do("cover_off")
    early.ohms("L1", "H8")
    outcome = marked("anyone-1", "open_part", named(card, faults_of(card)[0], early))
    assert (outcome.note, outcome.points, outcome.safety) == ("unsafe_act", 0.0, "held")
    unproved = open_bench(card)
    for act in ("unplug", "prove_meter", "test_dead", "cover_off", "ask_heat"):
        unproved.do(act)
    unproved.ohms("H5", "H6")
    outcome = marked("anyone-1", "open_part", named(card, faults_of(card)[0], unproved))
    assert (outcome.note, outcome.safety) == ("unsafe_act", "held")


def test_every_slip_of_the_lesson_is_used() -> None:
    used: set[str] = {"line_turned_round", "one_leg_along_the_line", "open_not_singled_out"}
    for one in REFERENCE.values():
        used |= {rule.slip for rule in getattr(one, "rules", ())} | set((getattr(one, "slips", None) or {}).values())
    used |= {code for one in quantities(LESSON) for code in one.task.slips}
    assert {slip.code for slip in OWN_SLIPS} == used


@pytest.mark.parametrize(
    ("name", "numbers", "expected"),
    [
        ("open_volts", {"volts": 240.0, "contacts": 5}, 240.0),
        # OpenStax College Physics 2e, resistors in series: the drop across 1 Ω at 0.600 A is 0.600 V.
        ("closed_drop", {"milliohms": 1000.0, "amps": 0.6, "volts": 12.0}, 600.0),
        ("split_minutes", {"places": 9, "minutes": 3}, 12.0),
    ],
)
def test_the_numbers_on_round_values(name: str, numbers: dict[str, float], expected: float) -> None:
    assert TASKS[name].value(numbers) == pytest.approx(expected)
