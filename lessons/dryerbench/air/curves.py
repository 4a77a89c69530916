"""Curves: SciPy's root finder and its smooth curve through points, loaded on first use: two lessons need them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import SupportsFloat


def root(function: Callable[[float], float], low: float, high: float, tolerance: float) -> float:
    """Return where ``function`` is zero between ``low`` and ``high``, to ``tolerance``, by Brent's method.

    Raises
    ------
    ValueError
        If the function has the same sign at both ends.
    """
    from scipy.optimize import brentq

    return float(brentq(function, low, high, xtol=tolerance))


def smooth_curve(x: Sequence[float], y: Sequence[float]) -> Callable[[float], SupportsFloat]:
    """Return Fritsch and Carlson's monotone cubic through the points ``x``, ``y``."""
    from scipy.interpolate import PchipInterpolator

    made: Callable[[float], SupportsFloat] = PchipInterpolator(x, y)
    return made
