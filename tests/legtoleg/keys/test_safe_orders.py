"""No order passes, not even for half its points, that has hands in a live machine or powers an open one."""

from __future__ import annotations

import pytest

from dryerbench.course.questions import Order
from dryerbench.registry import SHEETS, sheet
from legtoleg.demo.simulated_letters import an_order, letters_of
from legtoleg.keys.answer_key import references
from legtoleg.keys.reference import OrderReference
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome

APPRENTICE = "anyone-3"

BEFORE_DEAD = {
    "dead_order": ("cover",),
    "cold_test": ("cover", "pull", "read", "back"),
    "dead_trace": ("cover_off", "whole", "half", "alone"),
    "cleaning": ("forward", "off", "brush", "on", "push"),
    "teardown": ("cover_off", "belt_off", "drum_out", "wires_off", "heater_out"),
    "close_up": (),
    "call_order": ("open", "measure", "fit", "close"),
}
"""Of each order, the steps with hands in or behind the machine: none of them may stand first."""

AFTER_POWER = {
    "cleaning": ("plug", ("off", "brush", "on")),
    "close_up": (
        "power_on",
        ("heater_in", "case_test", "wires_on", "drum_in", "belt_on", "bond_test", "cover_on", "vent_on"),
    ),
    "call_order": ("power", ("open", "fit", "close")),
}
"""Of each order that ends with power, the step that brings it and those that may not come behind it."""

_DEAD = {"prove_first": "test_dead", "power_off": "test_dead", "test_dead": "prove_again"}
_TRACED, _OPENED = "cover_off whole half alone", "cover_off belt_off drum_out wires_off heater_out"
UNSAFE = {
    "dead_order": {
        "isolate": "lock test", "lock": "test", "prove": "test", "test": "prove-again cover", "prove-again": "cover",
        "stop": "rest", "rest": "cover",
    },
    "cold_test": {
        "unplug": "dead cover pull read back", "prove": "dead", "dead": "again cover", "again": "cover pull read back",
    },
    "dead_trace": {
        **_DEAD, "power_off": f"test_dead {_TRACED}", "test_dead": f"prove_again {_TRACED}", "prove_again": _TRACED,
    },
    "cleaning": {
        "unplug": "forward off brush on push plug", "off": "plug", "brush": "plug", "on": "plug run",
    },
    "teardown": {
        **_DEAD, "power_off": f"test_dead {_OPENED}", "test_dead": f"prove_again {_OPENED}", "prove_again": _OPENED,
    },
    "close_up": dict.fromkeys(
        ("case_test", "bond_test", "wires_on", "cover_on", "heater_in", "drum_in", "belt_on", "vent_on"), "power_on"
    ),
    "call_order": {
        "unplug": "dead", "prove": "dead", "dead": "again", "again": "open measure fit close", "open": "measure fit",
        "fit": "close", "close": "power",
    },
}  # fmt: skip
"""Of each order: the steps behind which others would be unsafe, if they came first."""
CLUMSY = {
    "dead_order": {"tell": "isolate", "stop": "isolate"},
    "cold_test": {"cover": "pull read", "pull": "read back", "read": "back"},
    "dead_trace": {"cover_off": "whole half alone", "diagram": "whole", "call_heat": "whole", "whole": "half",
                   "half": "alone"},
    "cleaning": {"forward": "off push", "off": "brush on", "brush": "on", "on": "push", "plug": "run", "push": "run"},
    "teardown": {
        "cover_off": "photo belt_off drum_out wires_off", "photo": "belt_off wires_off", "belt_off": "drum_out",
        "drum_out": "wires_off", "wires_off": "heater_out",
    },
    "close_up": {
        "heater_in": "case_test wires_on", "case_test": "wires_on", "wires_on": "drum_in cover_on",
        "drum_in": "belt_on", "belt_on": "cover_on", "vent_on": "run_proof", "power_on": "run_proof",
    },
    "call_order": {"ask": "measure", "measure": "quote", "quote": "fit", "power": "record"},
}  # fmt: skip
"""Of each order: what cannot be done, or helps nobody, in the other order, and hurts nobody either."""

ORDERS = {
    question.name: (lesson, question)
    for lesson, paper in SHEETS.items()
    for question in paper.questions
    if isinstance(question, Order)
}


def right_order(name: str) -> list[str]:
    lesson, question = ORDERS[name]
    reference = next(one for one in references(lesson) if one.question == name)
    assert isinstance(reference, OrderReference)
    return an_order(question, reference, sheet(lesson).card(APPRENTICE))


def marked(name: str, keys: list[str]) -> Outcome:
    lesson, question = ORDERS[name]
    typed = letters_of(question, sheet(lesson).card(APPRENTICE), keys).replace(" ", "")
    return mark_lesson(lesson, APPRENTICE, {name: Found("letters", typed=typed, letters=typed)})[name]


def test_every_order_of_the_course_is_looked_at() -> None:
    assert set(ORDERS) == set(BEFORE_DEAD)
    assert all(marked(name, right_order(name)).note == "right" for name in ORDERS)


def pairs(table: dict[str, str]) -> set[tuple[str, str]]:
    return {(first, then) for first, others in table.items() for then in others.split()}


@pytest.mark.parametrize("name", list(UNSAFE))
def test_the_rules_of_an_order_are_these_and_no_others(name: str) -> None:
    reference = next(one for one in references(ORDERS[name][0]) if one.question == name)
    assert isinstance(reference, OrderReference)
    for unsafe, table in ((True, UNSAFE), (False, CLUMSY)):
        assert {(rule.first, rule.then) for rule in reference.rules if rule.unsafe is unsafe} == pairs(table[name])


@pytest.mark.parametrize(("name", "step"), [(name, step) for name, steps in BEFORE_DEAD.items() for step in steps])
def test_hands_in_first_thing_hold_the_lesson(name: str, step: str) -> None:
    rest = [key for key in right_order(name) if key != step]
    outcome = marked(name, [step, *rest])
    assert (outcome.points, outcome.safety) == (0.0, "held")


@pytest.mark.parametrize(("name", "step"), [(name, step) for name, (_, steps) in AFTER_POWER.items() for step in steps])
def test_hands_in_after_power_hold_the_lesson(name: str, step: str) -> None:
    keys = [key for key in right_order(name) if key != step]
    keys.insert(keys.index(AFTER_POWER[name][0]) + 1, step)
    outcome = marked(name, keys)
    assert (outcome.points, outcome.safety) == (0.0, "held")


def test_the_dial_on_heat_before_the_plug_is_out_is_no_danger() -> None:
    keys = ["call_heat", *(key for key in right_order("dead_trace") if key != "call_heat")]
    assert marked("dead_trace", keys).note == "right"


@pytest.mark.parametrize("name", list(AFTER_POWER))
def test_everything_turned_round_is_held(name: str) -> None:
    assert marked(name, right_order(name)[::-1]).safety == "held"
