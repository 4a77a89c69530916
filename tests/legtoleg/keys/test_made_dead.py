"""The marking of lesson 01: right is full for anybody, every slip is named, what is unsafe holds the lesson."""

from __future__ import annotations

import pytest

from dryerbench.course.bench_card import open_bench
from dryerbench.registry import sheet
from dryerbench.topics.made_dead.sheet import LESSON
from legtoleg.demo.simulated_letters import an_order, letters_of
from legtoleg.keys.answer_key import references, worked
from legtoleg.keys.reference import ChoiceReference, OrderReference
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome, signed_off

PAPER = sheet(LESSON)
IDS = [f"someone-{n}" for n in range(100)]
BY_NAME = {reference.question: reference for reference in references(LESSON)}
ORDER = ["tell", "stop", "isolate", "lock", "rest", "prove", "test", "prove-again", "cover"]
ACTS = (
    ("unplug", {}),
    ("open_breaker", {}),
    ("lock", {}),
    ("prove_meter", {}),
    ("test_dead", {"where": "plug"}),
    ("prove_meter", {}),
    ("cover_off", {}),
    ("test_dead", {"where": "block"}),
    ("prove_meter", {}),
)


def letters(name: str, apprentice: str, keys: list[str]) -> Found:
    typed = letters_of(PAPER.question(name), PAPER.card(apprentice), keys).replace(" ", "")
    return Found("letters", typed=typed, letters=typed)


def work(acts) -> Found:
    return Found("work", acts=tuple({"act": act, "with": given} for act, given in acts))


def solved(apprentice: str) -> dict[str, Found]:
    card = PAPER.card(apprentice)
    found = {}
    right = worked(LESSON, card)
    for name, reference in BY_NAME.items():
        if name in right:
            found[name] = Found("quantity", right[name], PAPER.question(name).unit)
        elif isinstance(reference, ChoiceReference):
            found[name] = letters(name, apprentice, sorted(reference.right(card)))
        elif isinstance(reference, OrderReference):
            found[name] = letters(name, apprentice, ORDER)
        else:
            found[name] = work(ACTS)
    return found


def changed(apprentice: str, name: str, found: Found) -> Outcome:
    return mark_lesson(LESSON, apprentice, {name: found})[name]


def test_solved_is_full() -> None:
    for apprentice in IDS[:20]:
        marks = list(mark_lesson(LESSON, apprentice, solved(apprentice)).values())
        assert [mark.note for mark in marks] == ["right"] * len(PAPER.questions), apprentice
        assert signed_off(marks)


def test_amps_for_milliamps_is_named() -> None:
    right = worked(LESSON, PAPER.card("demo-01"))["body_current"]
    assert changed("demo-01", "body_current", Found("quantity", right / 1000, "mA")).note == "kilo"
    assert changed("demo-01", "body_current", Found("quantity", right / 1000, "A")).note == "right"


def test_other_orders_that_can_be_done_are_full() -> None:
    early_proof = ["prove", "tell", "stop", "rest", "isolate", "lock", "test", "prove-again", "cover"]
    late_rest = ["stop", "tell", "isolate", "lock", "prove", "test", "prove-again", "rest", "cover"]
    for order in (
        early_proof,
        late_rest,
        an_order(PAPER.question("dead_order"), BY_NAME["dead_order"], PAPER.card("x")),
    ):
        outcome = changed("demo-01", "dead_order", letters("dead_order", "demo-01", order))
        assert outcome.note == "right", order


def test_a_step_left_out_is_held() -> None:
    for key in ORDER:
        order = [one for one in ORDER if one != key]
        outcome = changed("demo-01", "dead_order", letters("dead_order", "demo-01", order))
        assert outcome.points == 0
        assert outcome.safety == "held"


def without(*places: int) -> Found:
    return work(act for place, act in enumerate(ACTS) if place not in places)


@pytest.mark.parametrize(
    ("found", "note"),
    [
        (without(0), "bad_trail"),  # the plug cannot be tested while it is in the receptacle
        (without(1, 2), "breaker_not_locked"),
        (without(2), "breaker_not_locked"),
        (without(3), "unsafe_act"),
        (without(4), "unsafe_act"),
        (without(5), "unsafe_act"),
        (without(6, 7, 8), "block_not_tested"),
        (without(7, 8), "block_not_tested"),
        (without(8), "zero_not_confirmed"),
        (without(3, 4, 5), "unsafe_act"),
        (work([*ACTS, ("set_dial", {"mode": "ohms"}), ("plug_in", {})]), "plug_left_in"),
        (work([("gear_on", {}), *ACTS[:3], ACTS[6], ACTS[3], ACTS[7], ACTS[8]]), "opened_before_dead"),
    ],
)
def test_work_done_wrong(found: Found, note: str) -> None:
    for apprentice in IDS[:10]:
        outcome = changed(apprentice, "make_dead", found)
        assert outcome.note == note
        assert outcome.safety == "held"
        assert outcome.points < outcome.max_points


def test_the_worked_trail_has_no_finding() -> None:
    for apprentice in IDS[:10]:
        bench = open_bench(PAPER.card(apprentice))
        for act, given in ACTS:
            bench.do(act, **given)
        assert bench.findings == []
        assert bench.minutes < 25


@pytest.mark.parametrize(
    ("acts", "points"),
    [
        ((), 0),
        (ACTS, 5),
        (ACTS[:1], 1),
        (ACTS[:3], 2),
        (ACTS[:6], 3),
        ([ACTS[0], *ACTS[3:7]], 2),
        (ACTS[:8], 4),
        ([ACTS[0], *ACTS[3:]], 4),
        ([*ACTS, ("cover_on", {})], 5),
        ((ACTS[3],), 0),
        ((("gear_on", {}), *ACTS[:4]), 2),
    ],
    ids=["nothing", "all", "plug alone", "isolated", "cover on", "safe start", "no last proof", "no lock",
         "closed again", "proved for nothing", "proved and not tested"],
)  # fmt: skip
def test_points_are_for_work_that_shows_it(acts, points: float) -> None:
    """Five goals, a point each; the last proof shows nothing without the test at the block that it is for."""
    for apprentice in IDS[:5]:
        outcome = changed(apprentice, "make_dead", work(acts))
        assert outcome.points == points
        assert (outcome.safety == "clear") == (points == outcome.max_points)
