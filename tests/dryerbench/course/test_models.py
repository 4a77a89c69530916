"""Tasks of lesson 03: the right models on round numbers, and wrong models that are really wrong."""

from __future__ import annotations

import math

import pytest

from dryerbench.answers.tolerance import figures_band
from dryerbench.registry import DRILLS
from dryerbench.registry import TASKS as ALL_TASKS
from dryerbench.topics.heater_power.models import TASKS


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
