"""Honest hand-ins, each worked out here by hand: on how many machines one of them loses a point. It is none."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest

from dryerbench.answers.parser import read
from dryerbench.registry import sheet
from legtoleg.keys.answer_key import worked
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.marking import mark_lesson

TWO, HEAT, METER, CASE, AIR = (
    "02_two_legs",
    "03_heater_power",
    "04_trusting_the_meter",
    "05_path_to_case",
    "08_air_and_drying",
)


def figures(number: float, count: int) -> float:
    """Return ``number`` to ``count`` significant figures, a half up."""
    step = 10.0 ** (math.floor(math.log10(abs(number))) - count + 1)
    return round(math.floor(number / step + 0.5 + 1e-9) * step, 12)


def tenths(number: float) -> float:
    return math.floor(number * 10 + 0.5 + 1e-9) / 10


def text(number: float, count: int, unit: str) -> str:
    """Return ``number`` typed to ``count`` figures."""
    places = count - 1 - math.floor(math.log10(abs(number)))
    return f"{figures(number, count):.{max(0, places)}f} {unit}"


def found(typed: str) -> Found:
    answer = read(typed)
    return Found("quantity", answer.magnitude, answer.unit, answer.figures, answer.typed)


def parallel(*ohms: float) -> float:
    return 1 / sum(1 / each for each in ohms)


def amps_rounded(card: Any, rounding: Callable[[float], float]) -> float:
    return sum(rounding(card.supply_volts / ohms) for ohms in card.element_ohms)


def pairwise(card: Any) -> float:
    one, two, three = card.element_ohms
    return parallel(figures(parallel(one, two), 3), three)


def in_series(card: Any) -> float:
    wire = 2 * card.run_feet / 1000 * 1.21
    return card.supply_volts / (parallel(*card.element_ohms) + wire) * wire


def neutral(card: Any) -> float:
    one, two = (figures(card.leg_volts / ohms, 3) for ohms in card.load_ohms)
    return abs(one - two)


def two_thirds(card: Any) -> float:
    return amps_rounded(card, float) * 2 / 3


def clean_pascals(card: Any) -> float:
    cfm = card.notes.hood_fpm * math.pi / 36
    return card.clean_inches * (cfm / 200) ** 2 * 249.089


def flow(card: Any) -> float:
    return card.notes.hood_fpm * math.pi / 36


def warm(card: Any) -> float:
    return (card.room_fahrenheit + 3.412 * card.notes.watts / (1.08 * flow(card)) - 32) / 1.8


def watts(card: Any) -> float:
    return card.supply_volts * amps_rounded(card, float)


def elsewhere(card: Any) -> float:
    return 208**2 / parallel(*card.element_ohms)


HAND_INS: dict[str, tuple[str, str, Callable[[Any], str], int]] = {
    "about 120 V on a strapped case": (TWO, "strapped_case_volts", lambda _: "120 V", 300),
    "about 120 V with the control off": (HEAT, "control_off_volts", lambda _: "120 V", 300),
    "120 V on an unbonded case": (CASE, "volts_unbonded", lambda _: "120 V", 300),
    "neutral, each current in 3 figures": (TWO, "neutral_current", lambda c: text(neutral(c), 3, "A"), 100),
    "ohms by amps to 0.1 A": (
        HEAT, "heater_ohms", lambda c: text(c.supply_volts / amps_rounded(c, tenths), 3, "ohm"), 100),
    "ohms pairwise": (HEAT, "heater_ohms", lambda c: text(pairwise(c), 3, "ohm"), 100),
    "wire solved in series": (HEAT, "run_drop", lambda c: text(in_series(c), 2, "V"), 100),
    "clean gauge in Pa": (AIR, "clean_gauge", lambda c: text(clean_pascals(c), 2, "Pa"), 150),
    "flow in m³/h": (AIR, "vent_flow", lambda c: text(flow(c) * 1.6990108, 3, "m3/h"), 150),
    "flow in L/s": (AIR, "vent_flow", lambda c: text(flow(c) * 0.47194745, 3, "L/s"), 150),
    "heater in BTU/h": (HEAT, "heater_power", lambda c: text(watts(c) * 3.4121416, 3, "BTU/h"), 150),
    "element in BTU/h": (
        HEAT, "element_power", lambda c: text(c.supply_volts**2 / c.element_ohms[0] * 3.4121416, 3, "BTU/h"), 150),
    "air in °C": (AIR, "air_after_heater", lambda c: text(warm(c), 3, "C"), 150),
    "208 V by 0.751": (HEAT, "power_at_208", lambda c: text(watts(c) * 0.751, 3, "W"), 100),
    "208 V by three quarters": (HEAT, "power_at_208", lambda c: text(watts(c) * 0.75, 3, "W"), 100),
    "two thirds": (HEAT, "open_element_current", lambda c: text(two_thirds(c), 3, "A"), 100),
    "give or take a half": (METER, "ohms_plus_minus", lambda _: "0.5 ohm", 100),
    "two figures of watts": (HEAT, "element_power", lambda c: text(c.supply_volts**2 / c.element_ohms[0], 2, "W"), 100),
    "two figures of percent": (
        HEAT, "circuit_share", lambda c: text(amps_rounded(c, float) / 0.3, 2, "%"), 100),
    "two figures of ohms": (METER, "ohms_of_element", lambda c: text(c.leads_in_ohms - c.tips_ohms, 2, "ohm"), 100),
    "two figures of milliamps": (
        "01_made_dead", "body_current", lambda c: text(1000 * c.leg_volts / c.person_ohms, 2, "mA"), 100),
    "one more figure of watts at 208 V": (HEAT, "power_at_208", lambda c: text(elsewhere(c), 4, "W"), 100),
}  # fmt: skip
"""What is handed in: lesson, question, the answer as typed for a card, on how many machines."""


def lost(name: str) -> int:
    """Return on how many machines that hand-in does not earn all its points, or is not clear."""
    lesson, question, typed, machines = HAND_INS[name]
    count = 0
    for number in range(machines):
        apprentice = f"anyone-{number}"
        outcome = mark_lesson(lesson, apprentice, {question: found(typed(sheet(lesson).card(apprentice)))})[question]
        count += not outcome.full or outcome.safety not in ("", "clear")
    return count


def lost_on_own_numbers(apprentice: str) -> list[str]:
    """Return what an apprentice loses who works lesson 03 by the book, each step from the own number as typed."""
    card = sheet(HEAT).card(apprentice)
    typed, right = {}, worked(HEAT, card)
    typed["heater_ohms"] = text(parallel(*card.element_ohms), 3, "ohm")
    typed["heater_current"] = text(card.supply_volts / float(typed["heater_ohms"].split()[0]), 3, "A")
    amps = float(typed["heater_current"].split()[0])
    typed["heater_power"] = text(card.supply_volts * amps, 3, "W")
    typed["power_at_208"] = text(
        float(typed["heater_power"].split()[0]) * (208 / card.supply_volts) ** 2, 3, "W")  # fmt: skip
    open_amps = card.supply_volts / card.element_ohms[card.open_element - 1]
    typed["open_element_current"] = text(amps - open_amps, 3, "A")
    typed["run_drop"] = text(amps * 2 * card.run_feet / 1000 * 1.21, 2, "V")
    typed["circuit_share"] = text(amps / 30 * 100, 3, "%")
    marks = mark_lesson(HEAT, apprentice, {name: found(one) for name, one in typed.items()})
    assert set(typed) <= set(right)
    return [name for name in typed if not marks[name].full]


def lost_on_the_own_case_volts(apprentice: str) -> list[str]:
    card = sheet("01_made_dead").card(apprentice)
    volts = text(card.fault_amps * card.bond_ohms, 3, "V")
    milliamps = text(1000 * float(volts.split()[0]) / card.person_ohms, 3, "mA")
    given = {"bonded_case_volts": found(volts), "bonded_body_current": found(milliamps)}
    marks = mark_lesson("01_made_dead", apprentice, given)
    return [name for name in given if not marks[name].full]


@pytest.mark.parametrize("name", HAND_INS)
def test_no_honest_hand_in_loses(name: str) -> None:
    assert lost(name) == 0


def test_right_on_right_numbers_loses_nothing() -> None:
    assert [one for one in (f"anyone-{n}" for n in range(300)) if lost_on_own_numbers(one)] == []
    assert [one for one in (f"anyone-{n}" for n in range(100)) if lost_on_the_own_case_volts(one)] == []
