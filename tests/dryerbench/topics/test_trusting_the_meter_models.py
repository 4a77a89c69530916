"""Tasks of lesson 04: the right models on round numbers, wrong models that are wrong, drills that tell them apart."""

from __future__ import annotations

import pytest

from dryerbench.answers.tolerance import figures_band
from dryerbench.bench.meter import Meter, ranges
from dryerbench.topics.trusting_the_meter.models import TASKS

ROUND = {
    "accuracy_width": ({"reading": 30.0, "percent": 0.9, "counts": 2, "count": 0.1, "full_scale": 600.0}, 0.47),
    "low_end": ({"reading": 240.0, "percent": 1.0, "counts": 3, "count": 0.1}, 237.3),
    "percent_on_range": ({"reading": 20.0, "percent": 0.9, "counts": 2, "count": 1.0, "fine": 0.1}, 10.9),
    "without_leads": ({"reading": 27.6, "leads": 0.3}, 27.3),
    "volts_through_path": ({"volts": 120.0, "path": 2.0, "meter": 10.0}, 100.0),
}


@pytest.mark.parametrize("name", sorted(TASKS))
def test_round_numbers(name: str) -> None:
    """240.0 V at ±(1.0 % + 3 counts) is ±2.7 V: arithmetic; GUM 4.3.7 takes it as the band's half-width."""
    numbers, expected = ROUND[name]
    assert TASKS[name].value(numbers) == pytest.approx(expected)
    for code, value in TASKS[name].slip_values(numbers).items():
        assert value not in figures_band(expected, 4), code


def test_the_drills_speak_of_the_benchs_own_meter() -> None:
    fine, coarse = ranges("ohms")[:2]
    assert (fine.full_scale, fine.percent, fine.counts, fine.resolution) == (600.0, 0.9, 2, 0.1)
    assert (coarse.full_scale, coarse.percent, coarse.counts, coarse.resolution) == (6000.0, 0.9, 2, 1.0)
    volts = ranges("volts")[-1]
    assert (volts.full_scale, volts.percent, volts.counts, volts.resolution) == (600.0, 1.0, 3, 0.1)
    assert (Meter().input_ohms, Meter().low_input_ohms, Meter().beeps_below) == (10e6, 3000.0, 40.0)
