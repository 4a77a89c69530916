"""Tasks of lesson 03: the right models on round numbers, and wrong models that are really wrong."""

from __future__ import annotations

import math

import pytest

from dryerbench.answers.tolerance import figures_band
from dryerbench.registry import DRILLS
from dryerbench.registry import TASKS as ALL_TASKS
from dryerbench.topics.heater_power.models import TASKS

ROUND = {
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
}


def test_every_task_is_tried() -> None:
    assert set(ROUND) == set(TASKS)


@pytest.mark.parametrize("name", sorted(TASKS))
def test_right_on_round_numbers(name: str) -> None:
    numbers, expected = ROUND[name]
    assert TASKS[name].value(numbers) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("name", sorted(TASKS))
def test_a_slip_is_wrong_on_round_numbers(name: str) -> None:
    numbers, expected = ROUND[name]
    for code, value in TASKS[name].slip_values(numbers).items():
        assert value not in figures_band(expected, 3), code


def test_a_slip_without_a_number_is_left_out() -> None:
    too_hot = {"cold": 27.0, "fahrenheit": 2192.0}  # 1200 °C; as °C it is off the table
    assert "fahrenheit_for_celsius" not in TASKS["hot_ohms"].slip_values(too_hot)
    assert all(math.isfinite(value) for value in TASKS["hot_ohms"].slip_values(too_hot).values())


@pytest.mark.parametrize("name", sorted(DRILLS))
def test_the_slips_of_a_drill_can_be_told_apart(name: str) -> None:
    drill = DRILLS[name]
    task = ALL_TASKS[drill.task]
    for turn in range(1, 101):
        numbers = drill.numbers(turn)
        assert "{" not in drill.ask(numbers)
        for code, value in task.slip_values(numbers).items():
            assert value not in figures_band(task.value(numbers), drill.figures), (turn, code)
