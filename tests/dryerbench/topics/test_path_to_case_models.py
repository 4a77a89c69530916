"""Tasks of lesson 05: the right models on round numbers, wrong models that are wrong, drills that tell them apart."""

from __future__ import annotations

import pytest

from dryerbench.answers.tolerance import figures_band
from dryerbench.topics.path_to_case.models import TASKS

ROUND = {
    "coil_share": ({"own": 8.1, "shared": 18.9}, 30.0),
    "far_piece_watts": ({"volts": 240.0, "own": 8.1, "shared": 18.0}, 800.0),
    "unbonded_case_volts": ({"volts": 240.0}, 120.0),
    "leak_limit": ({"kilowatts": 3.5}, 2.625),
    "leak_milliamps": ({"volts": 240.0, "kohm": 40.0}, 3.0),
}


@pytest.mark.parametrize("name", sorted(TASKS))
def test_round_numbers(name: str) -> None:
    """3.5 kW and 2.625 mA: IEC 60335-1 clause 13.2 as quoted (read at second hand); the rest is Ohm's law."""
    numbers, expected = ROUND[name]
    assert TASKS[name].value(numbers) == pytest.approx(expected)
    for code, value in TASKS[name].slip_values(numbers).items():
        assert value not in figures_band(expected, 3), code


def test_the_cap_is_a_slip_only_where_it_bites() -> None:
    assert TASKS["leak_limit"].slip_values({"kilowatts": 8.0})["leak_cap_forgotten"] == 6.0
    assert TASKS["leak_limit"].value({"kilowatts": 8.0}) == 5.0
    assert "leak_cap_forgotten" not in TASKS["leak_limit"].slip_values({"kilowatts": 6.0})
