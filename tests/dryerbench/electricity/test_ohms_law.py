"""Ohm's law for a heater: bounds and identities (numbers from outside are in tests/published)."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dryerbench.electricity.ohms_law import current, parallel, power, power_of_current, series

OHMS = st.floats(0.01, 1e6)
VOLTS = st.floats(0.1, 1e3)


@given(VOLTS, OHMS)
def test_power_three_ways(volts: float, ohms: float) -> None:
    amps = current(volts, ohms)
    assert power(volts, ohms) == pytest.approx(volts * amps)
    assert power_of_current(amps, ohms) == pytest.approx(volts * amps)


@given(st.lists(OHMS, min_size=1, max_size=6))
def test_side_by_side_is_less_than_the_least_and_a_row_more_than_the_most(ohms: list[float]) -> None:
    assert parallel(ohms) <= min(ohms) * (1 + 1e-12)
    assert series(ohms) >= max(ohms)


@given(st.lists(OHMS, min_size=1, max_size=6), VOLTS)
def test_amps_side_by_side_add(ohms: list[float], volts: float) -> None:
    assert current(volts, parallel(ohms)) == pytest.approx(sum(current(volts, part) for part in ohms))


def test_an_open_part_takes_nothing() -> None:
    assert current(240.0, math.inf) == 0.0
    assert parallel([27.0, math.inf]) == pytest.approx(27.0)
    assert parallel([math.inf, math.inf]) == math.inf
