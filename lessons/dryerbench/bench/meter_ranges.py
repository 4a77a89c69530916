"""The ranges of the meter, from the table ``meter-ranges``: full scale, digits, accuracy; and what is printed on it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from dryerbench.answers.tolerance import Band, accuracy_band
from dryerbench.core.errors import LegToLegError
from dryerbench.core.tables import table

RATINGS = ("CAT III 600 V", "CAT III 1000 V", "CAT IV 600 V", "CAT II 600 V", "CAT II 300 V", "no category")
"""What can be written on the meters that a shop has; the first is the course's own."""


class MeterError(LegToLegError, ValueError):
    """A setting or a place that the meter does not have, or an act that it cannot do."""


@dataclass(frozen=True, slots=True)
class Range:
    """One range: full scale, resolution and test amps in its unit, accuracy ±(``percent`` + ``counts``)."""

    mode: str
    full_scale: float
    unit: str
    resolution: float
    percent: float
    counts: int

    def band(self, reading: float) -> Band:
        """Return the band of the accuracy at ``reading``, in the unit of the range."""
        return accuracy_band(reading, self.percent, self.counts, self.resolution)

    def show(self, value: float) -> str:
        """Return ``value`` with the digits of this range, scaled to a short unit."""
        factor, prefix = _prefix(self.full_scale)
        decimals = max(0, round(-math.log10(self.resolution / factor)))
        unit = {"ohm": "Ω"}.get(self.unit, self.unit)
        return f"{value / factor:.{decimals}f} {prefix}{unit}"


def _prefix(full_scale: float) -> tuple[float, str]:
    for factor, prefix in ((1e9, "G"), (1e6, "M"), (1e3, "k")):
        if full_scale > factor:
            return factor, prefix
    return 1.0, ""


def fits_mains(rating: str) -> bool:
    """Return whether a meter marked ``rating`` may be put on a dryer's circuit: CAT III or IV (common practice)."""
    return rating.startswith(("CAT III", "CAT IV"))


@cache
def ranges(mode: str) -> tuple[Range, ...]:
    """Return the ranges of ``mode``, the smallest first.

    Raises
    ------
    MeterError
        For a mode that the meter does not have.
    """
    rows = [row for row in table("meter-ranges").rows if row["mode"] == mode]
    if not rows:
        modes = ", ".join(dict.fromkeys(table("meter-ranges").texts("mode")))
        raise MeterError(f"The meter has no mode '{mode}'. Its modes are: {modes}.")
    return tuple(
        Range(
            row.text("mode"),
            row.number("full_scale"),
            row.text("unit"),
            row.number("resolution"),
            row.number("percent"),
            row.whole("counts"),
        )
        for row in rows
    )


def by_hand(mode: str, full_scale: float) -> Range:
    """Return the range of ``mode`` that ends at ``full_scale``.

    Raises
    ------
    MeterError
        For a mode or a range that the meter does not have.
    """
    choices = ranges(mode)
    for scale in choices:
        if math.isclose(scale.full_scale, full_scale):
            return scale
    offered = ", ".join(scale.show(scale.full_scale) for scale in choices)
    raise MeterError(f"The mode {mode} has no range of {full_scale:g}; its ranges are {offered}.")
