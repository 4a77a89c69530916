"""Checks 4 to 7, 11 and 12: Ohm's law in a heater.

Sources: OpenStax College Physics 2e (read), except the 27 Ω of check 4, which is common practice: no published source.
"""

import pytest

from dryerbench.electricity.ohms_law import current, parallel, power, power_of_current, series

RESISTORS = [1.0, 6.0, 13.0]


def test_04_three_elements_of_27_ohms_on_240_volts():
    """27 Ω: common practice, no published source. The rest is Ohm's law: 80/9 A, 80/3 A, 2133.3 W, 6400 W."""
    elements = [27.0, 27.0, 27.0]
    assert current(240.0, 27.0) == pytest.approx(80.0 / 9.0)
    assert current(240.0, parallel(elements)) == pytest.approx(80.0 / 3.0)
    assert power(240.0, 27.0) == pytest.approx(2133.3, abs=0.05)
    assert power(240.0, parallel(elements)) == pytest.approx(6400.0)


def test_05_one_behind_the_other():
    """OpenStax College Physics 2e, resistors in series (read): 1, 6 and 13 Ω on 12 V."""
    ohms = series(RESISTORS)
    amps = current(12.0, ohms)
    assert ohms == pytest.approx(20.0)
    assert amps == pytest.approx(0.600)
    assert [amps * part for part in RESISTORS] == pytest.approx([0.600, 3.60, 7.80])


def test_06_side_by_side():
    """OpenStax College Physics 2e, resistors in parallel (read): 0.804 Ω and 14.92 A."""
    assert parallel(RESISTORS) == pytest.approx(0.804, abs=0.0005)
    assert current(12.0, parallel(RESISTORS)) == pytest.approx(14.92, abs=0.005)


def test_07_a_worn_cord():
    """OpenStax College Physics 2e, resistors in series (read): 10 A through 2.00 Ω of worn cord is 200 W."""
    assert power_of_current(10.0, 2.00) == pytest.approx(200.0)


def test_11_the_same_power_at_twice_the_volts():
    """OpenStax College Physics 2e (read): four times the ohms, half the amps."""
    at_120 = 14.4
    at_240 = 4.0 * at_120
    assert power(240.0, at_240) == pytest.approx(power(120.0, at_120))
    assert current(240.0, at_240) / current(120.0, at_120) == pytest.approx(0.50)


def test_12_a_headlight_filament_cold():
    """OpenStax College Physics 2e (read): 30.0 W hot; cold, 0.350 Ω on 12 V: 411 W, 34.3 A. The 0.350 Ω: memory."""
    assert power(12.0, 4.80) == pytest.approx(30.0)
    assert power(12.0, 0.350) == pytest.approx(411.0, abs=0.5)
    assert current(12.0, 0.350) == pytest.approx(34.3, abs=0.05)
