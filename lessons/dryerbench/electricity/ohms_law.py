"""Ohm's law for a heater: amps, watts, elements side by side and one behind the other."""

from __future__ import annotations

import math
from collections.abc import Iterable


def current(volts: float, ohms: float) -> float:
    """Return the amps through ``ohms`` Ω at ``volts`` V: I = V/R (Ohm's law). An open (inf Ω) takes 0 A."""
    return volts / ohms


def power(volts: float, ohms: float) -> float:
    """Return the watts that ``ohms`` Ω turn into heat at ``volts`` V: P = V²/R (Joule's and Ohm's laws)."""
    return volts * volts / ohms


def power_of_current(amps: float, ohms: float) -> float:
    """Return the watts that ``amps`` A turn into heat in ``ohms`` Ω: P = I²·R."""
    return amps * amps * ohms


def series(ohms: Iterable[float]) -> float:
    """Return the ohms of parts one behind the other: their sum."""
    return math.fsum(ohms)


def parallel(ohms: Iterable[float]) -> float:
    """Return the ohms of parts side by side: 1/(1/R1 + 1/R2 + …). An open part is inf Ω; all open is inf Ω."""
    siemens = math.fsum(1.0 / part for part in ohms)
    return 1.0 / siemens if siemens else math.inf
