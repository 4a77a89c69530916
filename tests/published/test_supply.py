"""Checks 1 to 3: the supply.

Source of 1 and 2: Lessons in Electric Circuits, volume II, polyphase chapter (read). Three: arithmetic.
"""

import pytest

from dryerbench.electricity.ohms_law import current, parallel, power, series
from dryerbench.electricity.supply import leg_to_leg, power_share

LOAD = 120.0**2 / 10_000.0
"""Ohms of a load that takes 10 kW at 120 V."""


def test_01_two_legs_half_a_turn_apart():
    """Lessons in Electric Circuits II, single-phase power systems (read): 120 V legs, 240 V between them."""
    assert leg_to_leg(120.0) == pytest.approx(240.0, abs=1e-9)


def test_01_two_loads_of_ten_kilowatts():
    """The same (read): 83.33 A each at 120 V, 166.66 A side by side at 120 V, 83.33 A in line at 240 V."""
    assert power(120.0, LOAD) == pytest.approx(10_000.0)
    assert current(120.0, LOAD) == pytest.approx(83.33, abs=0.005)
    assert current(120.0, parallel([LOAD, LOAD])) == pytest.approx(166.66, abs=0.01)
    assert current(leg_to_leg(120.0), series([LOAD, LOAD])) == pytest.approx(83.33, abs=0.005)


def test_02_two_phases_of_a_wye():
    """The same, three-phase power systems (read): 207.846 V line to line; 1.44 Ω a phase takes 83.33 A."""
    assert leg_to_leg(120.0, 120.0) == pytest.approx(207.846, abs=0.0005)
    assert current(120.0, 1.44) == pytest.approx(83.33, abs=0.005)


def test_03_a_240_volt_heater_on_208_volts():
    """Arithmetic: (208/240)² = 0.7511."""
    assert power_share(208.0, 240.0) == pytest.approx(0.7511, abs=0.00005)
    assert power(208.0, 27.0) / power(240.0, 27.0) == pytest.approx(0.7511, abs=0.00005)
