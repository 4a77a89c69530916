"""Lesson 09's references: solved is full, every slip is named, unsafe is held."""

from __future__ import annotations

from typing import Any

import pytest

from dryerbench.course.bench_card import faults_of, open_bench
from dryerbench.topics.open_and_close.belt import Belt
from dryerbench.topics.open_and_close.sheet import LESSON
from legtoleg.keys.answer_key import quantities, references, worked
from legtoleg.keys.open_and_close import _GOALS, _belt, _low, _over, _rows
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome, signed_off

from .conftest import Lesson

KEYS = Lesson(LESSON)
PAPER, handed_in, lettered, right_keys = KEYS.spec, KEYS.handed_in, KEYS.lettered, KEYS.right_keys
IDS = [f"anyone-{n}" for n in range(100)]
WIRES = ("wire T1", "wire T2", "wire T3", "wire T0")
REFERENCE = {reference.question: reference for reference in references(LESSON)}
DEAD = ("unplug", "prove_meter", "test_dead", "prove_meter")


def opened(card: Any, *, dead: bool = True) -> Any:
    bench = open_bench(card)
    for act in (*(DEAD if dead else ()), "cover_off"):
        bench.do(act)
    return bench


def repaired(card: Any) -> Any:
    bench = opened(card)
    for wire in WIRES:
        bench.do("pull_wire", wire=wire)
    bench.do("replace_part", part=f"element {card.bad_element}")
    return bench


def readings(bench: Any) -> dict[str, str]:
    rows = PAPER.question("proof_readings").rows
    return {row.label: str(bench.ohms(*row.key.rsplit("-", 1))) for row in rows}


def proved(
    card: Any, *, part: bool = True, case: bool = True, bond: bool = True, fixed: bool = True, wires: bool = True,
    cover: bool = True, run: bool = True, exhaust: bool = True,
) -> Any:  # fmt: skip
    bench = repaired(card) if part else opened(card)
    for wire in () if part else WIRES:
        bench.do("pull_wire", wire=wire)
    if case:
        bench.ohms("T0", "case")
    if fixed and "missing-bond" in faults_of(card):
        bench.do("replace_part", part="bond wire")
    if bond:
        bench.ohms("plug-G", "case")
    for wire in WIRES if wires else WIRES[1:]:
        bench.do("put_back_wire", wire=wire)
    for act in (*(["cover_on"] if cover else []), "plug_in", "ask_heat", "press_start", *(["let_run"] if run else [])):
        bench.do(act)
    if exhaust:
        bench.temperature("exhaust")
    return bench


def solved(apprentice: str) -> dict[str, Found]:
    card = PAPER.card(apprentice)
    right = worked(LESSON, card)
    found = {
        one.question: Found("quantity", right[one.question], PAPER.question(one.question).unit)
        for one in quantities(LESSON)
    }
    for name in ("teardown", "belt_run", "screw_tally", "before_power", "close_up", "clamp_verdict"):
        found[name] = lettered(name, card, right_keys(name, card))
    found["proof_readings"] = handed_in("proof_readings", card, readings(repaired(card)))
    found["close_and_prove"] = handed_in("close_and_prove", card, proved(card))
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
    card = PAPER.card("anyone-1")
    early_proof = ["prove_first", "power_off", *right_keys("teardown", card)[2:]]
    rest = ["test_dead", "prove_again", "cover_off", "photo", "belt_off", "drum_out", "wires_off", "heater_out"]
    assert marked("anyone-1", "teardown", lettered("teardown", card, [*early_proof[:2], *rest])).note == "right"
    bond_first = ["bond_test", "vent_on", "heater_in", "case_test", "wires_on", "drum_in", "belt_on", "cover_on"]
    order = lettered("close_up", card, [*bond_first, "power_on", "run_proof"])
    assert marked("anyone-1", "close_up", order).note == "right"


@pytest.mark.parametrize(
    ("early", "before", "code"),
    [
        ("cover_off", "power_off", "hands_in_before_dead"),
        ("cover_off", "test_dead", "hands_in_before_dead"),
        ("cover_off", "prove_again", "zero_not_proved"),
        ("test_dead", "prove_first", "meter_not_proved_first"),
        ("test_dead", "power_off", "tested_while_on"),
        ("wires_off", "test_dead", "hands_in_before_dead"),
    ],
)
def test_the_unsafe_orders_of_opening_up(early: str, before: str, code: str) -> None:
    card = PAPER.card("anyone-2")
    order = [key for key in right_keys("teardown", card) if key != early]
    order.insert(order.index(before), early)
    outcome = marked("anyone-2", "teardown", lettered("teardown", card, order))
    assert code in outcome.note.split("+")
    assert outcome.safety == "held"


def test_readings_with_the_wires_on_are_named() -> None:
    for apprentice in IDS:
        card = PAPER.card(apprentice)
        bench = opened(card)
        bench.do("replace_part", part=f"element {card.bad_element}")
        outcome = marked(apprentice, "proof_readings", handed_in("proof_readings", card, readings(bench)))
        assert outcome.note == "read_with_wires_on", (apprentice, outcome.message)


def test_readings_of_the_old_element_or_with_ol_turned_round_are_named() -> None:
    for apprentice in IDS:
        card = PAPER.card(apprentice)
        right = readings(repaired(card))
        turned = {label: "OL" if shown != "OL" else "0.3 Ω" for label, shown in right.items()}
        notes = marked(apprentice, "proof_readings", handed_in("proof_readings", card, turned)).note.split("+")
        assert set(notes) == {"ol_after_the_repair", "number_where_ol_is_due"}


def test_nulled_leads_and_plain_ones_both_count() -> None:
    for apprentice in IDS[:30]:
        card = PAPER.card(apprentice)
        bench = repaired(card)
        bench.do("null_leads")
        assert marked(apprentice, "proof_readings", handed_in("proof_readings", card, readings(bench))).note == "right"


def test_the_bond_row_is_what_the_machine_has() -> None:
    for apprentice in IDS:
        card = PAPER.card(apprentice)
        assert _rows(card)["plug-G-case"].over_limit == ("missing-bond" in faults_of(card))


@pytest.mark.parametrize(
    ("left_out", "code"),
    [
        ({"part": False}, "part_not_replaced"),
        ({"case": False}, "powered_before_case_test"),
        ({"bond": False}, "powered_before_bond"),
        ({"fixed": False}, "bond_not_put_right"),
        ({"run": False}, "never_ran"),
        ({"exhaust": False}, "exhaust_not_read"),
    ],
)
def test_what_was_left_out_of_the_work_is_named(left_out: dict[str, bool], code: str) -> None:
    cards = [PAPER.card(apprentice) for apprentice in IDS]
    if code == "bond_not_put_right":
        cards = [card for card in cards if "missing-bond" in faults_of(card)]
    if code == "part_not_replaced":  # with a grounded heater that is unsafe besides
        cards = [card for card in cards if "grounded" not in faults_of(card)[0]]
    assert len(cards) > 25
    for card in cards:
        bench = proved(card, **left_out)
        assert code in {goal.slip for goal in _GOALS if not goal.reached(bench)}, card.apprentice
    for card in cards[:3]:
        work = handed_in("close_and_prove", card, proved(card, **left_out))
        outcome = marked(card.apprentice, "close_and_prove", work)
        assert code in outcome.note.split("+")
        assert outcome.safety == "held"
        assert outcome.points < outcome.max_points


@pytest.mark.parametrize("left_out", [{"wires": False}, {"cover": False}])
def test_power_on_loose_wires_or_an_open_machine_is_unsafe(left_out: dict[str, bool]) -> None:
    for apprentice in IDS[:20]:
        card = PAPER.card(apprentice)
        outcome = marked(apprentice, "close_and_prove", handed_in("close_and_prove", card, proved(card, **left_out)))
        assert (outcome.note, outcome.points, outcome.safety) == ("unsafe_act", 0.0, "held")


def test_a_cover_off_a_live_machine_and_a_grounded_heater_under_power_are_unsafe() -> None:
    card = PAPER.card("anyone-1")
    outcome = marked("anyone-1", "close_and_prove", handed_in("close_and_prove", card, opened(card, dead=False)))
    assert (outcome.note, outcome.safety) == ("unsafe_act", "held")
    grounded = next(one for one in IDS if "grounded" in faults_of(PAPER.card(one))[0])
    card = PAPER.card(grounded)
    outcome = marked(grounded, "close_and_prove", handed_in("close_and_prove", card, proved(card, part=False)))
    assert (outcome.note, outcome.safety) == ("unsafe_act", "held")


def test_the_case_test_before_the_new_part_does_not_count() -> None:
    card = next(PAPER.card(one) for one in IDS if faults_of(PAPER.card(one))[0].endswith("open"))
    bench = opened(card)
    for wire in WIRES:
        bench.do("pull_wire", wire=wire)
    bench.ohms("T0", "case")
    bench.do("replace_part", part=f"element {card.bad_element}")
    assert not next(goal for goal in _GOALS if goal.slip == "powered_before_case_test").reached(bench)
    bench.insulation("T2", "case")
    assert next(goal for goal in _GOALS if goal.slip == "powered_before_case_test").reached(bench)


@pytest.mark.parametrize("mode", ["ohms", "insulation"])
def test_a_reading_that_met_a_live_machine_shows_neither_a_sound_element_nor_a_sound_bond(mode: str) -> None:
    bonded = (card for card in map(PAPER.card, IDS) if "missing-bond" not in faults_of(card))
    bench = open_bench(next(bonded))
    for act in ("cover_off", "ask_heat", "press_start"):
        bench.do(act)
    getattr(bench, mode)("T1", "case")
    reading = bench.trail[-1]["reading"]
    assert (reading["value"], reading["shown"] != "OL") == (None, True)
    assert not _over(reading)
    assert not _low(reading)


@pytest.mark.parametrize(
    ("lies", "asks_for"),
    [
        (Belt(), "drum_front"),
        (Belt(travel=2.0), "drum_front"),
        (Belt(travel=0.0), "idler"),
        (Belt(ribs_inward=False), "turn_over"),
        (Belt(on_pulley=False), "pulley"),
        (Belt(twisted=True), "untwist"),
        (Belt(twisted=True, travel=0.0), "untwist"),
    ],
)
def test_what_a_belt_asks_for(lies: Belt, asks_for: str) -> None:
    assert _belt(lies) == asks_for
