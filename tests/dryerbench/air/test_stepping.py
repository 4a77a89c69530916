import math

import numpy as np
import pytest
from scipy.integrate import RK45, solve_ivp

from dryerbench.air import stepping
from dryerbench.air.stepping import Crossing, Stepper, Trace
from dryerbench.core.errors import OutOfRangeError


def swing(state):
    """A pendulum of small swings: x'' = -x."""
    return (state[1], -state[0])


def run(end, watched=(), tolerance=1e-9, longest=10.0, state=(0.0, 1.0), rates=swing):
    trace = Trace()
    stepper = Stepper(np.full(len(state), tolerance), longest)
    return (*stepper.run(rates, 0.0, np.array(state), end, watched, trace), trace)


def test_the_end_is_reached_exactly():
    time, state, crossing, trace = run(20.0)
    assert (time, crossing) == (20.0, None)
    assert state == pytest.approx([math.sin(20.0), math.cos(20.0)], abs=1e-7)
    assert trace.times[0] == 0.0
    assert trace.times[-1] == 20.0


@pytest.mark.parametrize("level", [0.1, 0.5, 0.9, 0.999])
def test_a_crossing_is_found_where_it_is(level):
    up, down = Crossing("up", 0, level, upward=True), Crossing("down", 1, 0.5, upward=False)
    time, state, crossing, trace = run(20.0, (up,))
    assert crossing is up
    assert time == pytest.approx(math.asin(level), abs=1e-6)
    assert state[0] == pytest.approx(level, abs=1e-7)
    assert trace.rates[-1] == pytest.approx([math.cos(time), -math.sin(time)], abs=1e-5)
    assert run(20.0, (up, down))[2] is (up if math.asin(level) < math.pi / 3 else down)


def test_a_touch_inside_a_long_step_is_not_missed():
    """The swing passes 0.95 and is back below it within one loose step."""
    time, _, crossing, _ = run(3.1, (Crossing("peak", 0, 0.95, upward=True),), tolerance=0.05, longest=3.0)
    assert crossing is not None
    assert time == pytest.approx(math.asin(0.95), abs=0.1)


def test_downward():
    time, _, _, _ = run(20.0, (Crossing("down", 0, -0.5, upward=False),))
    assert time == pytest.approx(math.pi + math.pi / 6, abs=1e-6)


def test_a_level_already_passed_is_told_at_once():
    time, _, crossing, _ = run(5.0, (Crossing("late", 0, -1.0, upward=True),))
    assert crossing is not None
    assert time < 0.1


def test_order_five():
    """A hundred times less error allowed takes about 100^(1/5) = 2.5 times the steps."""
    loose, tight = (len(run(200.0, tolerance=t)[3].times) for t in (1e-6, 1e-8))
    assert 2.0 < tight / loose < 3.2


def test_agrees_with_solve_ivp_on_a_stiffish_pair():
    def rates(state):
        return (-5.0 * (state[0] - state[1]), -0.01 * state[1] + 0.05 * math.cos(state[0]))

    end, state = run(60.0, state=(1.0, 20.0), rates=rates)[:2]
    solution = solve_ivp(lambda _, y: rates(y.tolist()), (0, 60), [1.0, 20.0], rtol=1e-11, atol=1e-11)
    assert end == 60.0
    assert state == pytest.approx(solution.y[:, -1], abs=1e-6)


def test_a_leap_to_where_there_is_no_value_is_taken_back():
    """y' = -sqrt(y), y(0) = 1: (1 - t/2)², so a first step of 4 s would go below zero."""
    _, state, _, _ = run(1.9, state=(1.0,), rates=lambda y: (-math.sqrt(y[0]),))
    assert state[0] == pytest.approx(0.05**2, abs=1e-6)


def test_what_cannot_be_followed_is_told():
    with pytest.raises(OutOfRangeError, match="extreme"):
        run(3.0, state=(1.0,), rates=lambda y: (-1.0 / math.sqrt(y[0]),))  # gone at 2/3 s


def test_the_pairs_numbers_are_scipys():
    assert pytest.approx(RK45.P, rel=1e-14) == stepping._WITHIN
    assert pytest.approx(-RK45.E, rel=1e-14) == stepping._ERROR  # its size alone is used
    assert pytest.approx(RK45.A[1:, :5], rel=1e-14) == stepping._STAGES[:5, :5]
    assert pytest.approx(RK45.B, rel=1e-14) == stepping._STAGES[5, :6]
