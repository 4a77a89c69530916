"""Bands: how far from the worked number an answer may be and still count."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True)
class Band:
    """The numbers from ``low`` to ``high`` that count, in the unit of the question."""

    low: float
    high: float
    step: float = 0.0
    """The last place that counts; 0 where the number has to be met exactly."""

    def __contains__(self, number: float) -> bool:
        slack = 1e-9 * max(abs(self.low), abs(self.high))
        return self.low - slack <= number <= self.high + slack


def last_place(number: float, figures: int) -> float:
    """Return the worth of the last of ``figures`` significant figures of ``number``: 0.01 for 8.89 at 3."""
    if number == 0.0:
        return 0.0
    exponent = math.floor(math.log10(abs(number)))
    return 10.0 ** (exponent - figures + 1)


def figures_band(number: float, figures: int) -> Band:
    """Return the band of one unit in the last of ``figures`` figures on either side of ``number`` so rounded.

    One unit, not half of one, so that rounding on the way to the answer costs nobody a mark; about the rounded number,
    so that the ends of the band are numbers a person can be told. At the edge of a decade the next number up is a
    larger step away: 9.996 to three figures is 10.0, and its neighbors are 9.99 and 10.1.
    """
    step = last_place(number, figures)
    middle = round(number / step) * step if step else number
    outward = last_place(middle * (1.0 + 1e-9), figures)
    low, high = (middle - step, middle + outward) if middle >= 0 else (middle - outward, middle + step)
    return Band(low, high, step)


def round_half_up(number: float, step: float) -> float:
    """Return ``number`` to the nearest multiple of ``step``, a half away from zero, as people round by hand."""
    whole = math.floor(abs(number) / step * (1.0 + 1e-12) + 0.5)
    places = max(0, -math.floor(math.log10(step) + 1e-9))
    return math.copysign(round(whole * step, places), number)


def rounded_number(number: float, figures: int) -> float:
    """Return ``number`` to ``figures`` significant figures, a half away from zero."""
    return round_half_up(number, last_place(number, figures)) if number and math.isfinite(number) else number


def accuracy_band(reading: float, percent: float, counts: int, count: float) -> Band:
    """Return the band of a meter's ±(``percent`` % of reading + ``counts`` counts of ``count`` each)."""
    width = abs(reading) * percent / 100.0 + counts * count
    return Band(reading - width, reading + width)


def standard_uncertainty(band: Band) -> float:
    """Return half the band's width over √3, the rectangular distribution (JCGM 100:2008, 4.3.7)."""
    return (band.high - band.low) / 2.0 / math.sqrt(3.0)


def rounded(number: float, figures: int) -> str:
    """Return ``number`` to ``figures`` significant figures, written without an exponent."""
    if number == 0.0 or not math.isfinite(number):
        return f"{number:g}"
    whole = round(number, figures - 1 - math.floor(math.log10(abs(number))))
    places = max(0, figures - 1 - math.floor(math.log10(abs(whole)) + 1e-12))
    return f"{whole:.{places}f}"


def in_words(band: Band, unit: str) -> str:
    """Return the band as a sentence part: ``anything from 8.88 A to 8.90 A``."""
    if not band.step:
        return f"exactly {band.low:g} {unit}"
    places = max(0, -math.floor(math.log10(band.step) + 1e-9))
    return f"anything from {band.low:.{places}f} {unit} to {band.high:.{places}f} {unit}"
