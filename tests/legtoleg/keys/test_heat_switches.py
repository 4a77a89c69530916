"""Lesson 06: solved is full for anybody, every slip is recognised, unsafe answers are held."""

from __future__ import annotations

from functools import cache

import pytest

from dryerbench.course.bench_card import open_bench
from dryerbench.course.questions import Asked
from dryerbench.registry import sheet
from dryerbench.topics.heat_switches.sheet import CAUSES, cause_of, cup_case_of, reset_of, truck_of
from legtoleg.keys.answer_key import references, worked
from legtoleg.keys.heat_switches import BLOWN, cause_shown
from legtoleg.keys.reference import FaultReference
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome, signed_off

LESSON = "06_heat_switches"
PAPER = sheet(LESSON)
IDS = [f"anyone-{n}" for n in range(100)]
COLD_TEST = ["unplug", "prove", "dead", "again", "cover", "pull", "read", "back"]
SAFE_START = ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off", "null_leads")
WIRES = ("wire H3", "wire H5", "wire H7", "wire S1", "wire T1", "wire T2", "wire T3", "wire T0")
MENDED = {
    "the right cut-off; the cause is found and fixed",
    "the right cut-off; a new element is in and reads OL to the cabinet",
    "the right cut-off; a new limit is in and was seen to open hot",
    "the right cut-off; the vent is swept, the air is strong again",
}
IN_THE_CUP = {
    "stuck": "stuck",
    "blind_limit": "blind",
    "blind_thermostat": "blind",
    "opened": "opened",
    "broken": "broken",
}


def opened(card):
    bench = open_bench(card)
    for act in SAFE_START:
        bench.do(act)
    for wire in WIRES:
        bench.do("pull_wire", wire=wire)
    return bench


def acts(bench) -> tuple:
    return tuple({"act": act["act"], "with": dict(act["with"])} for act in bench.trail)


def letters(card, name: str, *keys: str) -> str:
    by_key = {option.key: letter for letter, option in PAPER.question(name).lettered(card).items()}
    return "".join(by_key[key] for key in keys)


def chosen(card, name: str, *keys: str) -> Found:
    return Found("letters", letters=letters(card, name, *keys))


def reading(value: float | None, unit: str) -> Found:
    return Found("over_limit") if value is None else Found("quantity", value, unit, 3, f"{value} {unit}")


@cache
def job_of(apprentice: str) -> tuple:
    return acts(whole_job(PAPER.card(apprentice)))


def whole_job(card):
    bench = opened(card)
    for point in ("T1", "T2", "T3"):
        bench.ohms(point, "case")
    bench.do("warm_parts", celsius=76)
    bench.ohms("H3", "H4")
    bench.do("warm_parts", celsius=140)
    bench.ohms("H7", "H8")
    return bench


@cache
def _cold_rows(apprentice: str) -> dict[str, Found]:
    card = PAPER.card(apprentice)
    bench = opened(card)
    pairs = {"thermostat": ("H3", "H4"), "cutoff": ("H5", "H6"), "limit": ("H7", "H8"), "sensor": ("S1", "S2")}
    return {key: reading(bench.ohms(*pair).value, "Ω") for key, pair in pairs.items()}


def cold_rows(card) -> dict[str, Found]:
    return _cold_rows(card.apprentice)


ASKED = {"duct_in": "prove", "never": "elsewhere", "still_open": "replace"}
"""What a limit with a reset button asks for, by the lesson's three questions; else the cause comes first."""


@cache
def solved(apprentice: str) -> dict[str, Found]:
    card = PAPER.card(apprentice)
    right = worked(LESSON, card)
    found = {name: Found("quantity", value, PAPER.question(name).unit, None) for name, value in right.items()}
    return {
        **found,
        "cold_test": chosen(card, "cold_test", *COLD_TEST),
        "cold_readings": Found("readings", rows=cold_rows(card)),
        "in_the_cup": chosen(card, "in_the_cup", IN_THE_CUP[cup_case_of(card)]),
        "can_blow": chosen(card, "can_blow", *(key for key in card.blown_keys if key in BLOWN)),
        "blown_by": Found("fault", letters=letters(card, "blown_by", cause_of(card)),
                          acts=job_of(apprentice)),
        "no_cutoff_here": chosen(card, "no_cutoff_here", "fit" if truck_of(card) in MENDED else "leave"),
        "reset_limit": chosen(card, "reset_limit", ASKED.get(reset_of(card), "find")),
    }  # fmt: skip


def on_paper(apprentice: str) -> dict[str, Found]:
    """Return the solved lesson without its bench, which takes most of the time to mark."""
    return {name: found for name, found in solved(apprentice).items() if name != "blown_by"}


def changed(apprentice: str, *, whole: bool = False, **found: Found) -> dict[str, Outcome]:
    return mark_lesson(LESSON, apprentice, {**(solved if whole else on_paper)(apprentice), **found})


def question_card(apprentice: str, name: str) -> tuple[Asked, object]:
    return PAPER.question(name), PAPER.card(apprentice)


def test_solved_is_full() -> None:
    for apprentice in IDS[:20]:
        marks = list(mark_lesson(LESSON, apprentice, solved(apprentice)).values())
        assert all(one.points == one.max_points and one.note == "right" for one in marks), (apprentice, marks)
        assert signed_off(marks)


def test_a_cause_left_out_is_named() -> None:
    for apprentice in IDS[:20]:
        card = PAPER.card(apprentice)
        keys = [key for key in card.blown_keys if key in BLOWN]
        outcome = changed(apprentice, can_blow=chosen(card, "can_blow", *keys[1:]))["can_blow"]
        assert outcome.note == "heat_piles_up"


def test_the_readings_slips() -> None:
    card = PAPER.card("anyone-3")
    rows = {**cold_rows(card), "thermostat": Found("over_limit")}
    assert changed("anyone-3", cold_readings=Found("readings", rows=rows))["cold_readings"].note == (
        "closed_is_not_over_limit"
    )
    rows = {**cold_rows(card), "cutoff": reading(0.2, "Ω")}
    assert changed("anyone-3", cold_readings=Found("readings", rows=rows))["cold_readings"].note == (
        "blown_is_over_limit"
    )
    rows = {**cold_rows(card), "sensor": reading(cold_rows(card)["sensor"].magnitude / 1000.0, "Ω")}
    outcome = changed("anyone-3", cold_readings=Found("readings", rows=rows))["cold_readings"]
    assert (outcome.note, outcome.points) == ("kilo", 3.0)


def test_leads_that_nobody_nulled_count() -> None:
    for apprentice in IDS[:20]:
        card = PAPER.card(apprentice)
        bench = open_bench(card)
        for act in SAFE_START[:-1]:
            bench.do(act)
        for wire in WIRES:
            bench.do("pull_wire", wire=wire)
        rows = {**cold_rows(card), "thermostat": reading(bench.ohms("H3", "H4").value, "Ω")}
        assert changed(apprentice, cold_readings=Found("readings", rows=rows))["cold_readings"].note == "right"


@pytest.mark.parametrize(
    ("first", "then", "code", "held"),
    [
        ("cover", "unplug", "hands_before_plug", True),
        ("dead", "prove", "cover_on_trust", True),
        ("cover", "again", "cover_on_trust", True),
        ("read", "pull", "read_in_circuit", False),
        ("pull", "cover", "steps_out_of_reach", False),
    ],
)
def test_an_order_turned_round(first: str, then: str, code: str, *, held: bool) -> None:
    card = PAPER.card("anyone-5")
    keys = list(COLD_TEST)
    keys.remove(first)
    keys.insert(keys.index(then), first)
    outcome = changed("anyone-5", cold_test=chosen(card, "cold_test", *keys))["cold_test"]
    assert code in outcome.note.split("+")
    assert (outcome.safety == "held") == held


def test_the_meter_may_be_proved_before_or_after_the_plug_is_out() -> None:
    card = PAPER.card("anyone-5")
    keys = ["prove", "unplug", *COLD_TEST[2:]]
    assert changed("anyone-5", cold_test=chosen(card, "cold_test", *keys))["cold_test"].note == "right"


def test_a_guess_earns_half_and_readings_of_another_part_show_nothing() -> None:
    for apprentice in IDS:
        card = PAPER.card(apprentice)
        named = letters(card, "blown_by", cause_of(card))
        outcome = changed(apprentice, blown_by=Found("fault", letters=named, acts=acts(opened(card))))["blown_by"]
        assert (outcome.note, outcome.points) == ("cause_not_shown", 2.5)
        bench = whole_job(card)
        assert cause_shown(bench, cause_of(card))
        assert [key for key in CAUSES if cause_shown(bench, key)] == [cause_of(card)]


@pytest.mark.parametrize("key", ["bridge", "hotter", "fuse", "just_fit"])
def test_a_bridge_holds_the_lesson_whatever_the_score(key: str) -> None:
    card = PAPER.card("anyone-9")
    marks = changed("anyone-9", whole=True, no_cutoff_here=chosen(card, "no_cutoff_here", key))
    assert marks["no_cutoff_here"].safety == "held"
    assert not signed_off(list(marks.values()))


def test_the_slips_of_the_wrong_causes() -> None:
    slips = next(one for one in references(LESSON) if isinstance(one, FaultReference)).slips
    assert {key: code for key, code in slips.items() if code == "blown_by_age"} == {"age": "blown_by_age"}
    assert set(slips.values()) == {"blown_by_age", "blamed_without_reading"}
