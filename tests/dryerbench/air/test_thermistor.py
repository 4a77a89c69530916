import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dryerbench.air.thermistor import (
    BetaThermistor,
    DriftedThermistor,
    SteinhartHart,
    ohms_by_temperature,
    temperature_by_ohms,
)
from dryerbench.core.errors import OutOfRangeError

CURVE = SteinhartHart.through([(-25.0, 87_041.0), (0.0, 27_326.0), (25.0, 10_000.0)])
PARTS = [BetaThermistor(), CURVE, DriftedThermistor(BetaThermistor(), 1.3)]


@pytest.mark.parametrize("part", PARTS)
@given(celsius=st.floats(-40.0, 200.0))
@settings(deadline=None)
def test_both_ways(part, celsius):
    assert part.celsius(part.ohms(celsius)) == pytest.approx(celsius, abs=1e-8)


@pytest.mark.parametrize("part", PARTS)
@given(celsius=st.floats(-40.0, 199.0))
@settings(deadline=None)
def test_ohms_fall_as_it_warms(part, celsius):
    assert part.ohms(celsius + 0.5) < part.ohms(celsius)


def test_steinhart_hart_without_its_cubic_term_is_beta():
    beta = BetaThermistor(10_000.0, 3950.0)
    straight = SteinhartHart(1 / 298.15 - CURVE_LOG / 3950.0, 1 / 3950.0, 0.0)
    for celsius in (-20.0, 25.0, 90.0):
        assert straight.ohms(celsius) == pytest.approx(beta.ohms(celsius), rel=1e-9)


CURVE_LOG = 9.210340371976184  # ln 10000


def test_beta_through_two_points():
    part = BetaThermistor.through((0.0, 27_326.0), (25.0, 10_000.0))
    assert part.ohms(0.0) == pytest.approx(27_326.0)
    assert part.ohms(25.0) == pytest.approx(10_000.0)
    assert part.beta == pytest.approx(3274.6, abs=0.5)


def test_beta_strays_from_three_points_far_from_its_own():
    """Two points fit near them and miss far away: why a table of the part comes first."""
    beta = BetaThermistor.through((0.0, 27_326.0), (25.0, 10_000.0))
    assert abs(beta.celsius(CURVE.ohms(12.0)) - 12.0) < 0.2
    assert abs(beta.celsius(CURVE.ohms(-25.0)) + 25.0) > 0.5
    assert abs(beta.celsius(CURVE.ohms(100.0)) - 100.0) > 2.0


def test_tables_both_ways():
    rows = ohms_by_temperature(CURVE, [0.0, 25.0])
    assert rows[1] == (25.0, pytest.approx(10_000.0))
    assert temperature_by_ohms(CURVE, [ohms for _, ohms in rows])[0][1] == pytest.approx(0.0, abs=1e-9)


def test_a_drifted_part_fools_its_control():
    part = DriftedThermistor(BetaThermistor(), 1.2)
    assert part.true_celsius(60.0) > 60.0
    assert part.ohms(part.true_celsius(60.0)) == pytest.approx(BetaThermistor().ohms(60.0))


@pytest.mark.parametrize("ohms", [0.0, -5.0, float("nan"), float("inf")])
def test_no_thermistor_reads_that(ohms):
    for part in PARTS:
        with pytest.raises(OutOfRangeError, match="above 0"):
            part.celsius(ohms)


def test_a_short_is_told():
    with pytest.raises(OutOfRangeError, match="short"):
        BetaThermistor().celsius(1e-3)


@pytest.mark.parametrize(
    "points",
    [
        [(0.0, 27_326.0), (25.0, 10_000.0)],
        [(0.0, 27_326.0), (0.0, 27_000.0), (25.0, 10_000.0)],
        [(0.0, 10_000.0), (10.0, 12_000.0), (25.0, 15_000.0)],
    ],
)
def test_points_that_make_no_thermistor(points):
    with pytest.raises(OutOfRangeError):
        SteinhartHart.through(points)


def test_beta_refuses_what_is_no_thermistor():
    with pytest.raises(OutOfRangeError, match="different temperatures"):
        BetaThermistor.through((25.0, 10_000.0), (25.0, 9_000.0))
    with pytest.raises(OutOfRangeError, match="beta"):
        BetaThermistor.through((0.0, 5_000.0), (25.0, 10_000.0))
