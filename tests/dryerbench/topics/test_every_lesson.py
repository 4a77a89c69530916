"""What holds in every lesson: options in an order of one's own, right models on round numbers, wrong ones that are."""

from __future__ import annotations

import math
from functools import cache
from typing import Any

import pytest

from dryerbench.answers.tolerance import figures_band
from dryerbench.course.questions import BenchQuestion, Lettered
from dryerbench.registry import SHEETS, TASKS, members, sheet

LETTERED = [
    (spec.lesson, question.name)
    for spec in (sheet(module.LESSON) for module in members("sheet").values())
    for question in spec.questions
    if isinstance(question, Lettered)
]
DEALT = {
    *("fit_kits", "hand_over", "can_blow", "lint_traps", "suspects", "call_fault"),
    *("beeper_sounds", "live_work", "before_power", "job_record", "second_screws"),
    *("around_the_job", "comes_and_goes", "at_the_cord", "drum_to_wall", "second_suspects"),
    "line_splitter",
}
"""Questions that offer a choice of their options, another on each machine; the others offer everybody all of them."""
ORDERS_OF_40 = {4: 15, 5: 25}
ORDERS_OF_200 = {4: 20, 5: 80, 6: 150}
"""By how many options there are: how many different orders 40 and 200 people see at least (of 24, 120, 720)."""

ROUND: dict[str, dict[str, tuple[dict[str, Any], float]]] = {
    # OpenStax College Physics 2e, electrical safety (checks 8 and 9): 120 V through 4.5 kΩ, 75.0 A through 0.200 Ω.
    "made_dead": {
        "shock_current": ({"volts": 120.0, "ohms": 4500.0}, 80 / 3),
        "bonded_case": ({"amps": 75.0, "ohms": 0.2, "leg_volts": 120.0}, 15.0),
        "touch_current": ({"touch_volts": 15.0, "ohms": 3000.0, "leg_volts": 120.0}, 5.0),
    },
    # Two 120 V legs 180° apart are 240 V, 120° apart 207.846 V: Lessons in Electric Circuits II (checks 1 and 2).
    # The rest is Ohm's law on 48 Ω and 12 Ω.
    "two_legs": {
        "split_volts": ({"volts": 120.0}, 240.0),
        "wye_volts": ({"volts": 120.0}, 120.0 * math.sqrt(3.0)),
        "neutral_amps": ({"volts": 240.0, "load_a": 48.0, "load_b": 12.0}, 7.5),
        "open_neutral": ({"volts": 240.0, "load_a": 48.0, "load_b": 12.0}, 192.0),
        "strapped_case": ({"volts": 120.0}, 120.0),
    },
    "heater_power": {
        "amps": ({"volts": 240.0, "ohms": 27.0}, 80 / 9),
        "watts": ({"volts": 240.0, "amps": 80 / 9, "ohms": 27.0}, 19200 / 9),
        "side_by_side": ({"ohms": (27.0, 27.0, 27.0)}, 9.0),
        "line_amps": ({"volts": 240.0, "heater_ohms": 9.0, "ohms": (27.0, 27.0, 27.0)}, 80 / 3),
        "line_watts": ({"volts": 240.0, "amps": 80 / 3, "ohms": (27.0, 27.0, 27.0)}, 6400.0),
        "watts_elsewhere": ({"watts": 6400.0, "rated": 240.0, "volts": 208.0}, 6400 * (208 / 240) ** 2),
        "share_left": ({"rated": 240.0, "volts": 216.0}, 81.0),
        "amps_one_open": ({"volts": 240.0, "line_amps": 80 / 3, "open_ohms": 27.0}, 160 / 9),
        "percent_off": ({"reading": 29.7, "sheet": 27.0}, 10.0),
        "hot_ohms": ({"cold": 27.0, "fahrenheit": 932.0}, 27.0 * 1.026),
        "run_drop": ({"amps": 80 / 3, "feet": 50.0, "awg": 10}, 80 / 3 * 0.121),
        "breaker_share": ({"amps": 24.0, "breaker": 30.0}, 80.0),
        "case_volts_control_off": ({"volts": 240.0}, 120.0),
        "breaker_for_wire": ({"awg": 12, "amps": 26.7}, 20.0),
    },
    # 240.0 V at ±(1.0 % + 3 counts) is ±2.7 V: arithmetic; GUM 4.3.7 takes it as the band's half-width.
    "trusting_the_meter": {
        "accuracy_width": ({"reading": 30.0, "percent": 0.9, "counts": 2, "count": 0.1, "full_scale": 600.0}, 0.47),
        "low_end": ({"reading": 240.0, "percent": 1.0, "counts": 3, "count": 0.1}, 237.3),
        "percent_on_range": ({"reading": 20.0, "percent": 0.9, "counts": 2, "count": 1.0, "fine": 0.1}, 10.9),
        "without_leads": ({"reading": 27.6, "leads": 0.3}, 27.3),
        "volts_through_path": ({"volts": 120.0, "path": 2.0, "meter": 10.0}, 100.0),
    },
    # 3.5 kW and 2.625 mA: IEC 60335-1 clause 13.2 as quoted (read at second hand); the rest is Ohm's law.
    "path_to_case": {
        "coil_share": ({"own": 8.1, "shared": 18.9}, 30.0),
        "far_piece_watts": ({"volts": 240.0, "own": 8.1, "shared": 18.0}, 800.0),
        "unbonded_case_volts": ({"volts": 240.0}, 120.0),
        "leak_limit": ({"kilowatts": 3.5}, 2.625),
        "leak_milliamps": ({"volts": 240.0, "kohm": 40.0}, 3.0),
    },
    "heat_switches": {
        "sensor_ohms": ({"sheet_ohms": 12_000.0, "fahrenheit": 122.0}, 4.3057),
        "sensor_degrees": ({"sheet_ohms": 12_000.0, "reads": 4305.7}, 122.0),
        "contact_ohms": ({"millivolts": 520.0, "amps": 26.0}, 0.02),
        "contact_heat": ({"ohms": 0.02, "amps": 26.0}, 13.52),
    },
    # OpenStax College Physics 2e, resistors in series: the drop across 1 Ω at 0.600 A is 0.600 V.
    "tracing_the_circuit": {
        "open_volts": ({"volts": 240.0, "contacts": 5}, 240.0),
        "closed_drop": ({"milliohms": 1000.0, "amps": 0.6, "volts": 12.0}, 600.0),
        "split_minutes": ({"places": 9, "minutes": 3}, 12.0),
    },
    "air_and_drying": {
        "duct_left": ({"edition": "2009 and later", "elbows_90": 3, "elbows_45": 1}, 17.5),
        "vent_flow": ({"fpm": 1500.0}, 130.9),
        "air_after_heater": ({"watts": 6400.0, "cfm": 150.0, "room": 70.0}, 204.795),
        "clean_gauge": ({"inches": 1.0, "at_cfm": 200.0, "cfm": 100.0}, 0.25),
        "on_share": ({"on": 18.0, "whole": 40.0}, 45.0),
        "longer": ({"took": 38.0, "sound": 20.0}, 90.0),
    },
    # 236 V on three elements of 27 Ω, hot: Ohm's law by hand. A clamp of ±(2 % + 5 counts) at 25 A: 0.55 A.
    "open_and_close": {
        "predicted_amps": ({"volts": 236.0, "ohms": 27.0}, 236 / (9 * 1.026)),
        "clamp_off": ({"amps": 25.0}, 0.55),
    },
    # 206 V on two coils of 20 and 30 Ω: 10.3 A and 6.867 A by Ohm's law, added by hand.
    "call_to_close": {
        "call_amps": ({"volts": 206.0, "heater_ohms": 12.0, "ohms": (20.0, 30.0)}, 206 / 12),
        "call_minutes": ({"drive": 15, "find": 40, "fix": 25}, 95.0),
        "quote_share": (
            {"minutes": 95.0, "rate": 80, "trip_charge": 70, "parts": 18.0, "new_price": 650},
            100 * 644 / 1950,
        ),
    },
}
"""Numbers that can be checked by hand, for every task of every lesson, and what comes out."""
BY_HAND = 1e-12
LOOSE = {"sensor_ohms": 1e-4, "sensor_degrees": 1e-4, "vent_flow": 1e-4, "air_after_heater": 1e-4}
"""Tasks whose number stands here with fewer figures (relative)."""
FIGURES = {"trusting_the_meter": 4}
"""To how many figures a slip has to be apart from the right number, where it is not 3."""
TRIED = [(topic, name) for topic, tasks in ROUND.items() for name in tasks]


@cache
def cards(lesson: str) -> list[Any]:
    return [sheet(lesson).card(f"someone-{n}") for n in range(300)]


@pytest.mark.parametrize(("lesson", "name"), LETTERED)
def test_options_are_dealt_in_an_order_of_ones_own(lesson: str, name: str) -> None:
    question = sheet(lesson).question(name)
    orders = [tuple(option.key for option in question.lettered(card).values()) for card in cards(lesson)]
    least = min(len(order) for order in orders)
    assert len(set(orders[:40])) > ORDERS_OF_40.get(least, 34)
    assert len(set(orders[:200])) > ORDERS_OF_200.get(least, 180)
    assert (len({frozenset(order) for order in orders}) > 1) == (name in DEALT)


@pytest.mark.parametrize("lesson", SHEETS)
def test_safety_and_judgement_weigh_at_least_a_third(lesson: str) -> None:
    """Judgement is what letters, a named fault or work on a bench answer. A third is our own rule."""
    questions = sheet(lesson).questions
    weight = sum(one.points for one in questions if one.safety or isinstance(one, Lettered | BenchQuestion))
    assert 3 * weight >= sum(one.points for one in questions)


@pytest.mark.parametrize(("lesson", "name"), LETTERED)
def test_every_option_has_a_letter_and_no_two_read_the_same(lesson: str, name: str) -> None:
    question = sheet(lesson).question(name)
    for card in cards(lesson):
        options = question.options_for(card)
        assert len(question.lettered(card)) == len(options)
        assert len({option.text for option in options}) == len({option.key for option in options}) == len(options)


def test_every_task_of_every_lesson_is_tried() -> None:
    assert {topic: set(tasks) for topic, tasks in ROUND.items()} == {
        topic: set(module.TASKS) for topic, module in members("models").items()
    }


@pytest.mark.parametrize(("topic", "name"), TRIED)
def test_right_on_round_numbers_and_slips_are_wrong(topic: str, name: str) -> None:
    numbers, expected = ROUND[topic][name]
    assert TASKS[name].value(numbers) == pytest.approx(expected, rel=LOOSE.get(name, BY_HAND))
    for code, value in TASKS[name].slip_values(numbers).items():
        assert value not in figures_band(expected, FIGURES.get(topic, 3)), code
