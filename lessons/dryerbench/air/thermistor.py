"""Thermistors: ohms from degrees and back, by one constant (beta) or by three (Steinhart-Hart)."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

import numpy as np

from dryerbench.core.errors import OutOfRangeError
from dryerbench.core.temperatures import KELVIN_AT_ZERO_CELSIUS, kelvin

if TYPE_CHECKING:
    from collections.abc import Iterable

USUAL_OHMS = 10_000.0
"""Resistance at 25 °C of the usual dryer thermistor [Ω]; common practice, no published source."""
USUAL_BETA = 3950.0
"""Its beta [K]; a usual value of the trade, no published source. The maker's own table comes first."""


class Thermistor(Protocol):
    """Anything that turns degrees into ohms and back."""

    def ohms(self, celsius: float) -> float:
        """Return the resistance [Ω] at ``celsius`` [°C]."""
        ...

    def celsius(self, ohms: float) -> float:
        """Return the temperature [°C] at which the resistance is ``ohms`` [Ω]."""
        ...


def _log_of(ohms: float) -> float:
    if not (math.isfinite(ohms) and ohms > 0):
        raise OutOfRangeError(f"A thermistor's resistance is above 0 Ω, not {ohms:g} Ω (0 is a short, OL is open).")
    return math.log(ohms)


@dataclass(frozen=True)
class BetaThermistor:
    """A thermistor by its ohms at one temperature and its beta: R = R0 exp(B (1/T - 1/T0)), T in kelvin.

    Good to about a degree over 50 °C. Source: the usual two-point equation of thermistor handbooks.
    """

    ohms_at_reference: float = USUAL_OHMS
    """[Ω]"""
    beta: float = USUAL_BETA
    """[K]"""
    reference_celsius: float = 25.0
    """[°C]"""

    def __post_init__(self) -> None:
        _log_of(self.ohms_at_reference)
        if not (math.isfinite(self.beta) and self.beta > 0):
            raise OutOfRangeError(f"A thermistor's beta is above 0 K, not {self.beta:g}.")
        kelvin(self.reference_celsius)

    @classmethod
    def through(cls, first: tuple[float, float], second: tuple[float, float]) -> BetaThermistor:
        """Return the curve through two (°C, Ω) points.

        Raises
        ------
        OutOfRangeError
            If they are not two points of a thermistor whose ohms fall as it warms.
        """
        (cold, cold_ohms), (hot, hot_ohms) = sorted((first, second))
        if cold == hot:
            raise OutOfRangeError("Two different temperatures are needed to find a thermistor's beta.")
        beta = (_log_of(cold_ohms) - _log_of(hot_ohms)) / (1 / kelvin(cold) - 1 / kelvin(hot))
        return cls(first[1], beta, first[0])

    def ohms(self, celsius: float) -> float:
        """Return the resistance [Ω] at ``celsius`` [°C].

        Examples
        --------
        >>> BetaThermistor().ohms(25.0)
        10000.0
        """
        return self.ohms_at_reference * math.exp(self.beta * (1 / kelvin(celsius) - 1 / kelvin(self.reference_celsius)))

    def celsius(self, ohms: float) -> float:
        """Return the temperature [°C] at which the resistance is ``ohms`` [Ω].

        Raises
        ------
        OutOfRangeError
            If the ohms are not above zero, or fit no temperature.
        """
        inverse = (_log_of(ohms) - math.log(self.ohms_at_reference)) / self.beta
        inverse += 1 / kelvin(self.reference_celsius)
        if inverse <= 0:
            raise OutOfRangeError(f"{ohms:g} Ω is lower than this thermistor reads at any temperature: shorted?")
        return 1 / inverse - KELVIN_AT_ZERO_CELSIUS


@dataclass(frozen=True)
class SteinhartHart:
    """A thermistor by three constants: 1/T = a + b ln R + c (ln R)³, T in kelvin, R in ohms.

    Source: I. S. Steinhart and S. R. Hart, Deep-Sea Research 15 (1968).
    """

    a: float
    b: float
    c: float

    def __post_init__(self) -> None:
        if not (math.isfinite(self.a) and self.b > 0 and self.c >= 0):
            raise OutOfRangeError("These constants make no thermistor whose ohms fall as it warms: check the points.")

    @classmethod
    def through(cls, points: Iterable[tuple[float, float]]) -> SteinhartHart:
        """Return the curve through three (°C, Ω) points.

        Raises
        ------
        OutOfRangeError
            If they are not three points of a thermistor whose ohms fall as it warms.
        """
        rows = sorted(points)
        if len(rows) != 3 or len({row[0] for row in rows}) != 3:
            raise OutOfRangeError("Three points at three different temperatures are needed for Steinhart-Hart.")
        logs = [_log_of(ohms) for _, ohms in rows]
        if not logs[0] > logs[1] > logs[2]:
            raise OutOfRangeError("A thermistor's ohms fall as it warms; these three points do not.")
        matrix = np.array([[1.0, log, log**3] for log in logs])
        a, b, c = np.linalg.solve(matrix, [1 / kelvin(row[0]) for row in rows])
        return cls(float(a), float(b), float(c))

    def celsius(self, ohms: float) -> float:
        """Return the temperature [°C] at which the resistance is ``ohms`` [Ω].

        Raises
        ------
        OutOfRangeError
            If the ohms are not above zero, or fit no temperature.
        """
        log = _log_of(ohms)
        inverse = self.a + self.b * log + self.c * log**3
        if inverse <= 0:
            raise OutOfRangeError(f"{ohms:g} Ω is lower than this thermistor reads at any temperature: shorted?")
        return 1 / inverse - KELVIN_AT_ZERO_CELSIUS

    def ohms(self, celsius: float) -> float:
        """Return the resistance [Ω] at ``celsius`` [°C]: the one real root of the cubic (Cardano).

        Raises
        ------
        OutOfRangeError
            If the temperature is at or below absolute zero.
        """
        offset = self.a - 1 / kelvin(celsius)
        if self.c == 0:
            return math.exp(-offset / self.b)
        half = offset / (2 * self.c)
        root = math.hypot(half, math.sqrt((self.b / (3 * self.c)) ** 3))
        # One of root - half and root + half loses its digits; their product is (b/3c)³, which gives it back.
        large = math.cbrt(root + abs(half))
        small = self.b / (3 * self.c) / large
        return math.exp(math.copysign(large - small, -half))


@dataclass(frozen=True)
class DriftedThermistor:
    """A thermistor whose ohms are everywhere ``factor`` times what they should be (worn or wrong)."""

    sound: Thermistor
    factor: float
    """Ohms over the sound part's ohms."""

    def __post_init__(self) -> None:
        _log_of(self.factor)

    def ohms(self, celsius: float) -> float:
        """Return the resistance [Ω] at ``celsius`` [°C]."""
        return self.factor * self.sound.ohms(celsius)

    def celsius(self, ohms: float) -> float:
        """Return the true temperature [°C] at which the drifted part reads ``ohms`` [Ω]."""
        return self.sound.celsius(ohms / self.factor)

    def true_celsius(self, believed: float) -> float:
        """Return the true temperature [°C] when a control that trusts the sound curve reads ``believed``."""
        return self.celsius(self.sound.ohms(believed))


def ohms_by_temperature(part: Thermistor, celsius: Iterable[float]) -> list[tuple[float, float]]:
    """Return rows (°C, Ω), one for each temperature given: the table in a service sheet."""
    return [(value, part.ohms(value)) for value in celsius]


def temperature_by_ohms(part: Thermistor, ohms: Iterable[float]) -> list[tuple[float, float]]:
    """Return rows (Ω, °C), one for each resistance given: the table for a reading on the meter."""
    return [(value, part.celsius(value)) for value in ohms]
