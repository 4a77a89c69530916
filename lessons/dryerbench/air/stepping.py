"""Steps through time that stop exactly where a switch moves.

Dormand and Prince's pair of orders 5 and 4 (J. Comput. Appl. Math. 6, 1980), with the step set by its
error. A crossing within a step is found on the cubic through both ends and their rates (Hermite), then
refined on the step's own quartic. SciPy's ``solve_ivp`` does the same in general; a small loop of our own
is faster on ten numbers, and tests hold it to ``solve_ivp`` and to plain fine steps.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from dryerbench.core.errors import OutOfRangeError

if TYPE_CHECKING:
    from dryerbench.core.temperatures import Floats

Rates = Callable[[Sequence[float]], Sequence[float]]

_STAGES = np.array(
    (
        (1 / 5, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0),
        (3 / 40, 9 / 40, 0.0, 0.0, 0.0, 0.0, 0.0),
        (44 / 45, -56 / 15, 32 / 9, 0.0, 0.0, 0.0, 0.0),
        (19372 / 6561, -25360 / 2187, 64448 / 6561, -212 / 729, 0.0, 0.0, 0.0),
        (9017 / 3168, -355 / 33, 46732 / 5247, 49 / 176, -5103 / 18656, 0.0, 0.0),
        (35 / 384, 0.0, 500 / 1113, 125 / 192, -2187 / 6784, 11 / 84, 0.0),
    )
)
_ERROR = np.array((71 / 57600, 0.0, -71 / 16695, 71 / 1920, -17253 / 339200, 22 / 525, -1 / 40))
_WITHIN = np.array(
    (
        (1.0, -8048581381 / 2820520608, 8663915743 / 2820520608, -12715105075 / 11282082432),
        (0.0, 0.0, 0.0, 0.0),
        (0.0, 131558114200 / 32700410799, -68118460800 / 10900136933, 87487479700 / 32700410799),
        (0.0, -1754552775 / 470086768, 14199869525 / 1410260304, -10690763975 / 1880347072),
        (0.0, 127303824393 / 49829197408, -318862633887 / 49829197408, 701980252875 / 199316789632),
        (0.0, -282668133 / 205662961, 2019193451 / 616988883, -1453857185 / 822651844),
        (0.0, 40617522 / 29380423, -110615467 / 29380423, 69997945 / 29380423),
    )
)
"""Weights of the slopes for the state within a step, a quartic (Shampine, 1986; numbers as in SciPy)."""
FIRST_STEP = 4.0
"""First step tried after a switch has moved [s]."""
SHORTEST_STEP = 1e-9
"""[s]"""
_PROBES = (0.25, 0.5, 0.75)
"""Places inside a step where a crossing that comes back before its end would show."""


@dataclass(frozen=True)
class Crossing:
    """A number of the state that, on passing ``level`` upward or downward, ends the stretch."""

    name: str
    index: int
    level: float
    upward: bool

    def passed(self, value: float) -> bool:
        """Return whether ``value`` has reached or passed the level."""
        return value >= self.level if self.upward else value <= self.level


@dataclass
class Trace:
    """What was computed: times [s], states and their rates, one row for each accepted step's end."""

    times: list[float] = field(default_factory=list)
    states: list[Floats] = field(default_factory=list)
    rates: list[Floats] = field(default_factory=list)

    def add(self, time: float, state: Floats, rate: Floats) -> None:
        """Append one row."""
        self.times.append(time)
        self.states.append(state)
        self.rates.append(rate)


def _cubic(theta: float, step: float, ends: tuple[float, float, float, float]) -> float:
    """Return the Hermite cubic at ``theta`` (0 to 1) through values and rates (y0, y1, f0, f1)."""
    y0, y1, f0, f1 = ends
    rise = y1 - y0
    bend = theta * (1 - theta)
    return y0 + theta * rise + bend * ((1 - 2 * theta) * (-rise) + (1 - theta) * step * f0 - theta * step * f1)


def _first_crossing(crossing: Crossing, step: float, ends: tuple[float, float, float, float]) -> float | None:
    """Return where in the step (0 to 1) the crossing first happens, or None."""
    low = 0.0
    for high in (*_PROBES, 1.0):
        if crossing.passed(_cubic(high, step, ends)):
            break
        low = high
    else:
        return None
    for _ in range(12):
        middle = 0.5 * (low + high)
        if crossing.passed(_cubic(middle, step, ends)):
            high = middle
        else:
            low = middle
    return high


class Stepper:
    """Integrates ten or so numbers from switch to switch.

    ``tolerance``: error allowed in a step, one for each number of the state, in its unit (inf: not watched).
    ``longest``: longest step [s].
    """

    def __init__(self, tolerance: Floats, longest: float) -> None:
        self._weight = 1.0 / tolerance
        self._longest = longest
        self._slopes = np.zeros((7, tolerance.size))

    def _step(self, rates: Rates, state: Floats, step: float) -> tuple[Floats, float]:
        """Return the state after ``step`` [s], and the worst error over what is allowed."""
        slopes = self._slopes
        after = state
        try:
            for stage, row in enumerate(step * _STAGES, start=1):
                after = state + row.dot(slopes)
                slopes[stage] = rates(after.tolist())
        except (ArithmeticError, ValueError):  # a stage leapt to where the equations have no value
            slopes[1:] = 0.0
            return state, math.inf
        wrong = _ERROR.dot(slopes) * self._weight
        return after, step * max(float(wrong.max()), -float(wrong.min()))

    def run(
        self, rates: Rates, time: float, state: Floats, end: float, watched: Sequence[Crossing], trace: Trace
    ) -> tuple[float, Floats, Crossing | None]:
        """Integrate until ``end`` [s] or the first crossing; return time, state and that crossing, if any.

        Raises
        ------
        OutOfRangeError
            If no step is short enough to keep to the tolerance.
        """
        slopes = self._slopes
        slopes[0] = rates(state.tolist())
        trace.add(time, state, slopes[0].copy())
        step = min(FIRST_STEP, self._longest)
        while time < end:
            step = min(step, end - time)
            after, wrong = self._step(rates, state, step)
            growth = min(4.0, max(0.2, 0.9 * (wrong + 1e-12) ** -0.2))
            if not wrong <= 1.0:
                step *= growth
                if step < SHORTEST_STEP:
                    raise OutOfRangeError("These numbers change faster than can be followed: one is extreme.")
                continue
            found = self._search(watched, state, after, step)
            if found is not None:
                crossing, theta = found
                theta, state, rate = self._refine(crossing, state, step, theta)
                time += theta * step
                trace.add(time, state, rate)
                return time, state, crossing
            time = end if step >= end - time else time + step
            state = after
            slopes[0] = slopes[6]
            trace.add(time, state, slopes[0].copy())
            step = min(step * growth, self._longest)
        return time, state, None

    def _search(
        self, watched: Sequence[Crossing], before: Floats, after: Floats, step: float
    ) -> tuple[Crossing, float] | None:
        """Return the earliest crossing in the step and where in it (0 to 1), or None."""
        best: tuple[Crossing, float] | None = None
        first, last = self._slopes[0], self._slopes[6]
        for crossing in watched:
            at = crossing.index
            value, rate, rate_before = after.item(at), last.item(at), first.item(at)
            turned_back = (rate > 0) != crossing.upward and (rate_before > 0) == crossing.upward
            if not (turned_back or crossing.passed(value) or crossing.passed(before.item(at))):
                continue
            theta = _first_crossing(crossing, step, (before.item(at), value, rate_before, rate))
            if theta is not None and (best is None or theta < best[1]):
                best = (crossing, theta)
        return best

    def _refine(self, crossing: Crossing, state: Floats, step: float, theta: float) -> tuple[float, Floats, Floats]:
        """Return where in the step the crossing is, by the step's quartic, and the state and rates there."""
        quartic = self._slopes.T @ _WITHIN
        c1, c2, c3, c4 = (step * quartic[crossing.index]).tolist()
        missing = crossing.level - float(state[crossing.index])
        for _ in range(3):
            slope = c1 + theta * (2 * c2 + theta * (3 * c3 + theta * 4 * c4))
            if slope == 0:
                break
            value = theta * (c1 + theta * (c2 + theta * (c3 + theta * c4)))
            theta = min(1.0, max(0.0, theta + (missing - value) / slope))
        powers = np.array((theta, theta**2, theta**3, theta**4))
        slopes = np.array((1.0, 2 * theta, 3 * theta**2, 4 * theta**3))
        return theta, state + step * (quartic @ powers), quartic @ slopes
