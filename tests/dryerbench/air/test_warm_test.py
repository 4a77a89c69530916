import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from dryerbench.air.thermistor import BetaThermistor
from dryerbench.air.thermostats import usual_switch
from dryerbench.air.warm_test import Cup, WarmTest, thermistor_ohms
from dryerbench.core.errors import OutOfRangeError

CUP = Cup()
CYCLING = WarmTest(usual_switch("cycling_thermostat"), CUP)


def test_the_closed_form_solves_both_lags():
    def rates(_, state):
        return ((CUP.room - state[0]) / CUP.cooling, (state[0] - state[1]) / CUP.lag)

    solution = solve_ivp(rates, (0, 600), [CUP.water, CUP.room], rtol=1e-10, atol=1e-10, dense_output=True)
    times = np.linspace(0, 600, 50)
    assert CUP.water_celsius(times) == pytest.approx(solution.sol(times)[0], abs=1e-5)
    assert CUP.part_celsius(times) == pytest.approx(solution.sol(times)[1], abs=1e-5)


def test_a_cycling_thermostat_opens_and_later_closes():
    opens, closes = CYCLING.opens_after, CYCLING.closes_after
    assert 10 < opens < 60
    assert closes > opens + 300
    assert CUP.part_celsius(opens) == pytest.approx(CYCLING.part.opens)
    assert CUP.part_celsius(closes) == pytest.approx(CYCLING.part.closes)
    assert CYCLING.ohms([opens - 1, opens + 1, closes - 1, closes + 1]).tolist() == [
        0.01,
        math.inf,
        math.inf,
        0.01,
    ]


@pytest.mark.parametrize("part", ["high_limit", "thermal_cutoff"])
def test_water_cannot_open_what_opens_above_boiling(part):
    test = WarmTest(usual_switch(part), Cup(100.0))
    assert test.opens_after is None
    assert test.closes_after is None
    assert test.closed(np.linspace(0, 3600, 60)).all()


def test_lukewarm_water_opens_nothing():
    assert WarmTest(usual_switch("cycling_thermostat"), Cup(60.0)).opens_after is None


def test_the_hottest_moment():
    times = np.linspace(0, 600, 60_001)
    assert CUP.peak_seconds == pytest.approx(times[CUP.part_celsius(times).argmax()], abs=0.02)


def test_thermistor_falls_then_rises():
    ohms = thermistor_ohms(BetaThermistor(), CUP, [0.0, CUP.peak_seconds, 3600.0])
    assert ohms[1] < ohms[2] < ohms[0]


def test_errors():
    with pytest.raises(OutOfRangeError, match="Water in a cup"):
        Cup(120.0)
    with pytest.raises(OutOfRangeError, match="faster"):
        Cup(lag=2000.0)
