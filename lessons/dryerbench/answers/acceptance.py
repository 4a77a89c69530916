"""Acceptance: whether a number as it was written is one that was worked out, in the unit and the figures written."""

from __future__ import annotations

import re
from dataclasses import dataclass

from dryerbench.answers.tolerance import Band, figures_band, last_place, rounded_number
from dryerbench.answers.units import convert

SHOP_MOVES = 0.10
"""How far, as a share, the shop's rounding to one figure less than asked may move a number and still cost nothing."""

_NUMBER = re.compile(r"[0-9]*\.?[0-9]+\.?")
_SLACK = 1e-9


@dataclass(frozen=True)
class Written:
    """A number as written: its magnitude in its own unit, and its significant figures (None for a computed one)."""

    magnitude: float
    unit: str
    figures: int | None = None

    def to(self, unit: str) -> float:
        """Return it in ``unit``."""
        return convert(self.magnitude, self.unit, unit)


def sure_figures(typed: str, figures: int | None) -> int | None:
    """Return how many of the ``figures`` of ``typed`` are sure; the zeros of 2300 may only hold its place."""
    number = _NUMBER.search(typed)
    if figures is None or number is None or "." in number[0]:
        return figures
    return max(1, figures - (len(number[0]) - len(number[0].rstrip("0"))))


@dataclass(frozen=True)
class Wanted:
    """How a number is asked for: its unit, its significant figures, or exactly."""

    unit: str
    figures: int
    exact: bool = False

    def band(self, right: float, unit: str) -> Band:
        """Return what counts about the number ``right``, itself in the unit asked for, in ``unit``."""
        if self.exact and unit == self.unit:
            return Band(right, right)
        if self.exact:
            return self._near(right, unit)
        return figures_band(convert(right, self.unit, unit), self.figures)

    def fits(self, written: Written, right: float) -> bool:
        """Tell whether ``written`` is ``right``: inside its band in the unit written, or in the unit asked for."""
        if written.magnitude in self.band(right, written.unit):
            return True
        return not self.exact and written.to(self.unit) in self.band(right, self.unit)

    def is_rounding_of(self, written: Written, value: float) -> bool:
        """Tell whether ``written`` is ``value`` in the unit asked for, rounded as asked also before converting."""
        return written.magnitude in self._near(value, written.unit)

    def is_short_of(self, written: Written, value: float) -> bool:
        """Tell whether ``written`` is ``value`` rounded to one figure less than asked, as written."""
        short = self.figures - 1
        if self.exact or short < 1 or (written.figures is not None and written.figures > short):
            return False
        there = convert(value, self.unit, written.unit)
        if abs(written.magnitude - there) > last_place(there, short) / 2 * (1 + _SLACK):  # a half goes either way
            return False
        return abs(rounded_number(written.magnitude, short) - written.magnitude) <= _SLACK * abs(there)

    def is_shop_rounding_of(self, written: Written, value: float) -> bool:
        """Tell whether ``written`` is ``value`` to one figure less, and hardly moved by that (``SHOP_MOVES``)."""
        there = convert(value, self.unit, written.unit)
        return self.is_short_of(written, value) and abs(written.magnitude - there) <= SHOP_MOVES * abs(there)

    def _near(self, value: float, unit: str) -> Band:
        """Return half a last place about ``value`` in ``unit``, and in the unit asked for if that is another one."""
        there = convert(value, self.unit, unit)
        half = last_place(there, self.figures) / 2 * (1 + _SLACK)
        if unit == self.unit or self.exact:
            return Band(there - half, there + half, 2 * half)
        here = last_place(value, self.figures) / 2
        ends = [convert(value + shift, self.unit, unit) for shift in (-here, here)]
        return Band(min(ends) - half, max(ends) + half, 2 * half)
