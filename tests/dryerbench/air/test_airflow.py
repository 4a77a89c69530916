import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dryerbench.air.airflow import Blower, DryerPassage, operating_point, usual_blower
from dryerbench.air.ducts import CFM, INCH_OF_WATER, Duct
from dryerbench.core.errors import OutOfRangeError


@given(st.floats(0.0, 60.0), st.floats(0.0, 0.95), st.floats(0.0, 0.95))
@settings(deadline=None)
def test_pressures_balance_where_it_runs(feet, blocked, filter_blocked):
    point = operating_point(Duct(feet, blocked=blocked), DryerPassage(filter_blocked=filter_blocked))
    assert point.blower_pressure == pytest.approx(point.dryer_pressure + point.duct_pressure, rel=1e-4)
    assert 0 < point.flow < usual_blower().free_flow


@given(st.floats(0.0, 0.9), st.floats(0.01, 0.09))
@settings(deadline=None)
def test_more_blocked_moves_less_air_against_more_pressure(blocked, more):
    before, after = operating_point(Duct(blocked=blocked)), operating_point(Duct(blocked=blocked + more))
    assert after.cfm < before.cfm
    assert after.back_pressure_inches > before.back_pressure_inches


def test_a_straight_line_against_a_square_has_a_closed_form():
    """Blower p = P (1 - q/Q), loss k q²: the root of a quadratic."""
    blower = Blower([0.0, 0.05, 0.1], [400.0, 200.0, 0.0])
    point = operating_point(Duct(0.0, (), hood_loss=0.0), DryerPassage(40_000.0), blower)
    assert point.flow == pytest.approx((-4000 + (4000**2 + 4 * 40_000 * 400) ** 0.5) / 80_000, abs=1e-7)


def test_shut_and_free():
    shut = operating_point(Duct(blocked=1.0))
    assert shut.flow == 0.0
    assert shut.back_pressure_inches == pytest.approx(usual_blower().shut_pressure / INCH_OF_WATER)
    assert operating_point(Duct(0.0, (), hood_loss=0.0), DryerPassage(0.0)).flow == pytest.approx(
        usual_blower().free_flow
    )


def test_clogged_filter_takes_air_and_back_pressure():
    """Lint before the blower: less flow AND less pressure in the duct. That tells it from a blocked vent."""
    clean, clogged = operating_point(Duct()), operating_point(Duct(), DryerPassage(filter_blocked=0.8))
    assert clogged.cfm < clean.cfm
    assert clogged.back_pressure_inches < clean.back_pressure_inches


def test_the_curve_falls_between_its_points():
    blower = usual_blower()
    flows = [blower.free_flow * share / 200 for share in range(201)]
    pressures = [blower.pressure(flow) for flow in flows]
    assert pressures == sorted(pressures, reverse=True)
    assert operating_point(Duct()).cfm == pytest.approx(operating_point(Duct()).flow / CFM)


def test_errors():
    with pytest.raises(OutOfRangeError, match="starts at no flow"):
        Blower([0.1, 0.2], [100.0, 0.0])
    with pytest.raises(OutOfRangeError, match="falls"):
        Blower([0.0, 0.1, 0.2], [100.0, 120.0, 0.0])
    with pytest.raises(OutOfRangeError, match="moves from 0"):
        usual_blower().pressure(1.0)
    with pytest.raises(OutOfRangeError, match="below 1"):
        DryerPassage(filter_blocked=1.0)
    with pytest.raises(OutOfRangeError, match="share"):
        DryerPassage(filter_share=1.5)
    with pytest.raises(OutOfRangeError, match="density"):
        operating_point(Duct(), density=0.0)
