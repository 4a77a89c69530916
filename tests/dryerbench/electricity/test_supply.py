"""The supply: phasors and shares (numbers from outside are in tests/published)."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dryerbench.electricity.supply import dryer_demand, leg_to_leg, power_share


@given(st.floats(1.0, 500.0), st.floats(0.0, 360.0))
def test_leg_to_leg_is_the_chord(volts: float, apart: float) -> None:
    assert leg_to_leg(volts, apart) == pytest.approx(2 * volts * math.sin(math.radians(apart) / 2), abs=1e-9)


@given(st.floats(1.0, 500.0), st.floats(1.0, 500.0))
def test_power_goes_with_the_square(volts: float, rated: float) -> None:
    assert power_share(2 * volts, rated) == pytest.approx(4 * power_share(volts, rated))
    assert power_share(rated, rated) == 1.0


def test_demand_is_never_under_its_floor() -> None:
    assert dryer_demand(0.0) == 5000.0
    assert dryer_demand(5400.0) == 5400.0
