"""Dimensions: numbers with units, added, multiplied and raised to a power, over the table's units alone."""

from __future__ import annotations

import math
from dataclasses import dataclass

from dryerbench.answers.units import convert, quantity_of
from dryerbench.core.errors import SumError

__all__ = ["DIMENSIONS", "Dimensioned", "of_number"]

Powers = tuple[int, int, int, int]
"""The powers of kilogram, meter, second and ampere."""

DIMENSIONS: dict[str, tuple[str, float, Powers]] = {
    "current": ("A", 1.0, (0, 0, 0, 1)),
    "voltage": ("V", 1.0, (1, 2, -3, -1)),
    "resistance": ("\N{GREEK CAPITAL LETTER OMEGA}", 1.0, (1, 2, -3, -2)),
    "power": ("W", 1.0, (1, 2, -3, 0)),
    "apparent power": ("VA", 1.0, (1, 2, -3, 0)),
    "frequency": ("Hz", 1.0, (0, 0, -1, 0)),
    "air flow": ("m³/h", 1.0 / 3600.0, (0, 3, -1, 0)),
    "air speed": ("m/s", 1.0, (0, 1, -1, 0)),
    "length": ("meter", 1.0, (0, 1, 0, 0)),
    "pressure": ("Pa", 1.0, (1, -1, -2, 0)),
    "energy": ("J", 1.0, (1, 2, -2, 0)),
    "mass": ("kg", 1.0, (1, 0, 0, 0)),
    "time": ("s", 1.0, (0, 0, 1, 0)),
    "share": ("%", 0.01, (0, 0, 0, 0)),
    "capacitance": ("farad", 1.0, (-1, -2, 4, 2)),
}
"""For each quantity but temperature: a unit of the table, its SI size, its dimension (SI Brochure, 9th ed.)."""

_NONE: Powers = (0, 0, 0, 0)
_SHOWN_IN = {
    DIMENSIONS[quantity][2]: symbol
    for quantity, symbol in (
        ("current", "A"),
        ("voltage", "V"),
        ("resistance", "\N{GREEK CAPITAL LETTER OMEGA}"),
        ("power", "W"),
        ("energy", "kWh"),
        ("air flow", "cfm"),
        ("air speed", "ft/min"),
        ("length", "ft"),
        ("pressure", "inH2O"),
        ("time", "min"),
        ("mass", "lb"),
    )
}
"""The unit in which a product of other units is told. One over a time is left out: a frequency, or radians?"""

_HUGE = 1e60
_DEGREES = "temperatures can only be taken from one another, both in the same unit."


@dataclass(frozen=True)
class Dimensioned:
    """A number with its dimension: ``size`` in SI units, or in ``unit`` for a temperature.

    ``unit`` is the unit that it is still counted in, "" after a product of units; ``bare`` is a number that never had
    one. ``degrees`` is "reading" or "difference" for temperatures.
    """

    size: float
    powers: Powers = _NONE
    unit: str = ""
    bare: bool = False
    degrees: str = ""

    @property
    def is_number(self) -> bool:
        """Tell whether it has no dimension: a plain number or a share."""
        return self.powers == _NONE and not self.degrees

    def measures_as(self, other: Dimensioned) -> bool:
        """Tell whether both measure the same thing; temperatures, in the same unit."""
        if self.degrees or other.degrees:
            return bool(self.degrees and other.degrees) and self.unit == other.unit
        return self.powers == other.powers

    def plus(self, other: Dimensioned, sign: int) -> Dimensioned:
        """Return the sum (``sign`` 1) or the difference (``sign`` -1).

        Raises
        ------
        SumError
            If they measure different things.
        """
        if self.degrees or other.degrees:
            if sign > 0 or not self.degrees == other.degrees == "reading" or self.unit != other.unit:
                raise SumError(_DEGREES)
            return Dimensioned(self.size - other.size, unit=self.unit, degrees="difference")
        self._check_alike(other)
        unit = self.unit or other.unit
        return _checked(self.size + sign * other.size, self.powers, unit, bare=self.bare and other.bare)

    def _check_alike(self, other: Dimensioned) -> None:
        if self.powers == other.powers and self.bare == other.bare:
            a, b = self._kind(), other._kind()
            if a == b or not (self.unit and other.unit):
                return
            raise SumError(f"{a} and {b} cannot be added or subtracted.")
        if self.bare or other.bare:
            raise SumError(
                "one part of it has a unit and another has none. Put the unit behind each number, "
                "or brackets around numbers that share one."
            )
        raise SumError(f"{self._kind()} and {other._kind()} cannot be added or subtracted.")

    def _kind(self) -> str:
        """Return what it measures, in plain words."""
        if self.unit:
            return quantity_of(self.unit)
        if self.powers == _NONE:
            return "share"
        return quantity_of(_SHOWN_IN[self.powers]) if self.powers in _SHOWN_IN else "a product of other units"

    def times(self, other: Dimensioned) -> Dimensioned:
        """Return the product.

        Raises
        ------
        SumError
            If it is beyond all measure, or a factor is a temperature.
        """
        if self.degrees or other.degrees:
            one, number = (self, other) if self.degrees else (other, self)
            if one.degrees != "difference" or not number.is_number:
                raise SumError(_DEGREES)
            return Dimensioned(one.size * number.size, unit=one.unit, degrees="difference")
        powers = _added(self.powers, other.powers, 1)
        unit = _kept(self, other)
        return _checked(self.size * other.size, powers, unit, bare=self.bare and other.bare)

    def over(self, other: Dimensioned) -> Dimensioned:
        """Return the quotient.

        Raises
        ------
        SumError
            If it divides by zero, is beyond all measure, or has a temperature in it.
        """
        if other.size == 0:
            raise SumError("it divides by zero.")
        if other.degrees:
            if not self.degrees == other.degrees == "difference" or self.unit != other.unit:
                raise SumError(_DEGREES)
            return Dimensioned(self.size / other.size)
        inverse = _checked(1.0 / other.size, _added(_NONE, other.powers, -1), "", bare=other.bare)
        if self.degrees:
            return self.times(inverse)
        unit = self.unit if other.is_number and not (self.unit == other.unit == "%") else ""
        bare = self.bare and other.bare
        return _checked(self.size / other.size, _added(self.powers, other.powers, -1), unit, bare=bare)

    def to_the(self, exponent: int) -> Dimensioned:
        """Return the power.

        Raises
        ------
        SumError
            If it is beyond all measure, or the power of a temperature.
        """
        made = self
        for _ in range(exponent - 1):
            made = made.times(self)
        return made

    def counted_in(self, unit: str) -> Dimensioned:
        """Return this bare number with ``unit`` behind it.

        Raises
        ------
        SumError
            If it has one already.
        """
        if not self.bare:
            raise SumError("there is one unit too many behind the brackets.")
        return of_number(self.size, unit)

    def told(self) -> tuple[float, str]:
        """Return (magnitude, unit of the table).

        Raises
        ------
        SumError
            If the table has no unit for it.
        """
        if self.bare:
            raise SumError("it has no unit. Put a unit behind each number, as in 12 V / 4 ohm.")
        if self.degrees:
            return self.size, self.unit
        unit = self.unit or ("%" if self.powers == _NONE else _SHOWN_IN.get(self.powers, ""))
        if not unit:
            raise SumError(
                "its units come to nothing that is used here. Put a unit behind each number, as in 12 V / 4 ohm."
            )
        return self.size / _size_of(unit), unit


def of_number(magnitude: float, unit: str) -> Dimensioned:
    """Return a number with a unit of the table, or a bare one for "".

    Raises
    ------
    SumError
        If it is beyond all measure.
    """
    if not unit:
        return _checked(magnitude, _NONE, "", bare=True)
    quantity = quantity_of(unit)
    if quantity == "temperature":
        return Dimensioned(magnitude, unit=unit, degrees="reading")
    return _checked(magnitude * _size_of(unit), DIMENSIONS[quantity][2], unit)


def _size_of(unit: str) -> float:
    """Return the size of ``unit`` in SI units."""
    symbol, size, _ = DIMENSIONS[quantity_of(unit)]
    return convert(1.0, unit, symbol) * size


def _added(a: Powers, b: Powers, sign: int) -> Powers:
    return (a[0] + sign * b[0], a[1] + sign * b[1], a[2] + sign * b[2], a[3] + sign * b[3])


def _kept(a: Dimensioned, b: Dimensioned) -> str:
    """Return the unit that a product is still counted in: three times 8.9 A is in A, half of 80 % in %."""
    if a.is_number and b.is_number:
        return a.unit or b.unit
    return b.unit if a.is_number else a.unit if b.is_number else ""


def _checked(size: float, powers: Powers, unit: str, *, bare: bool = False) -> Dimensioned:
    if not math.isfinite(size) or abs(size) > _HUGE or 0 < abs(size) < 1 / _HUGE:
        raise SumError("it is beyond anything a meter shows.")
    return Dimensioned(size, powers, unit, bare)
