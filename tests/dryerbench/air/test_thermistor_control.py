import pytest

from dryerbench.air.thermistor import BetaThermistor, DriftedThermistor, SteinhartHart
from dryerbench.air.thermistor_control import thermistor_control


def test_a_sound_part_switches_where_it_should():
    control = thermistor_control(BetaThermistor(), opens=66.0, closes=60.0)
    assert (control.opens, control.closes) == (pytest.approx(66.0), pytest.approx(60.0))


@pytest.mark.parametrize(("factor", "hotter"), [(1.3, True), (0.7, False)])
def test_drift_moves_both_marks(factor, hotter):
    control = thermistor_control(DriftedThermistor(BetaThermistor(), factor), opens=66.0, closes=60.0)
    assert (control.opens > 66.0) == hotter
    assert (control.closes > 60.0) == hotter
    assert control.closes < control.opens


def test_a_part_of_another_curve_is_told_by_its_ohms():
    other = SteinhartHart.through([(-25.0, 87_041.0), (0.0, 27_326.0), (25.0, 10_000.0)])
    control = thermistor_control(other, BetaThermistor(), opens=66.0)
    assert other.ohms(control.opens) == pytest.approx(BetaThermistor().ohms(66.0))
