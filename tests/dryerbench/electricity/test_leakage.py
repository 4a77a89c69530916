"""Leakage: limits and trip times at their corners."""

import math

import pytest

from dryerbench.electricity.leakage import interrupter_seconds, leakage_limit


def test_an_interrupter_need_not_trip_below_6_milliamperes():
    assert math.isinf(interrupter_seconds(5.9))
    assert interrupter_seconds(20.0) == 1.0
    assert interrupter_seconds(264.0) < 0.03


@pytest.mark.parametrize(("kilowatts", "milliamps"), [(0.5, 0.75), (1.0, 0.75), (2.0, 1.5), (6.4, 4.8), (9.0, 5.0)])
def test_the_limit_grows_with_power_to_5_milliamperes(kilowatts, milliamps):
    assert leakage_limit(kilowatts) == pytest.approx(milliamps)
