"""Sensor curves rise, start where they must and end where they end."""

import pytest

from dryerbench.air.sensors import SensorRangeError, platinum_ohms, type_k_millivolts


def test_they_start_at_zero_degrees():
    assert platinum_ohms(0.0) == 100.0
    assert platinum_ohms(0.0, 1000.0) == 1000.0
    assert type_k_millivolts(0.0) == pytest.approx(0.0, abs=1e-6)


def test_they_rise():
    degrees = range(0, 850, 25)
    for curve in (platinum_ohms, type_k_millivolts):
        values = [curve(float(t)) for t in degrees]
        assert values == sorted(values)
    assert platinum_ohms(-50.0) < 100.0


def test_outside_they_say_so():
    with pytest.raises(SensorRangeError, match="-200 to 850 °C, not to 900"):
        platinum_ohms(900.0)
    with pytest.raises(SensorRangeError, match="type K"):
        type_k_millivolts(-1.0)
