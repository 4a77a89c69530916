"""Wire: the element's own, which hardly changes with heat, and the copper that feeds it."""

from __future__ import annotations

from bisect import bisect_right

from dryerbench.core.errors import TableError
from dryerbench.core.tables import table

__all__ = [
    "breaker_limit",
    "constant_factor",
    "hot_factor",
    "hottest_celsius",
    "run_drop",
    "run_ohms",
]


def hot_factor(celsius: float) -> float:
    """Return the resistance of 80/20 nickel-chromium at ``celsius`` °C over that at 20 °C.

    Straight lines between the rows of the table ``nichrome-80-20``; 20 to 1200 °C.

    Raises
    ------
    TableError
        Outside the table.
    """
    rows = table("nichrome-80-20")
    temperatures, factors = rows.numbers("celsius"), rows.numbers("factor")
    if not temperatures[0] <= celsius <= temperatures[-1]:
        raise TableError(
            f"The table of 80/20 wire runs from {temperatures[0]:g} to {temperatures[-1]:g} °C; "
            f"{celsius:g} °C is outside."
        )
    above = min(bisect_right(temperatures, celsius), len(temperatures) - 1)
    low, high = temperatures[above - 1], temperatures[above]
    share = (celsius - low) / (high - low)
    return float(factors[above - 1] + share * (factors[above] - factors[above - 1]))


def hottest_celsius() -> float:
    """Return the last temperature of the table ``nichrome-80-20`` in °C."""
    return float(table("nichrome-80-20").numbers("celsius")[-1])


def constant_factor(celsius: float, per_kelvin: float) -> float:
    """Return 1 + α·(t - 20 °C): a constant coefficient, good near 20 °C only (OpenStax College Physics 2e)."""
    return 1.0 + per_kelvin * (celsius - 20.0)


def run_ohms(feet: float, awg: int) -> float:
    """Return the ohms of a copper run ``feet`` ft long, out and back, at 75 °C.

    Twice the length times the table ``copper-conductors`` (NEC chapter 9 table 8 as reprinted).

    Raises
    ------
    TableError
        For a gauge that the table does not have.
    """
    return 2.0 * feet / 1000.0 * float(table("copper-conductors").row(awg=awg).number("ohms_per_kft"))


def run_drop(amps: float, feet: float, awg: int) -> float:
    """Return the volts lost at ``amps`` A in a copper run ``feet`` ft long, out and back: V = I·R."""
    return amps * run_ohms(feet, awg)


def breaker_limit(awg: int) -> float:
    """Return the largest usual breaker in A for a copper run of gauge ``awg``: table ``copper-conductors``.

    Raises
    ------
    TableError
        For a gauge that the table does not have.
    """
    return float(table("copper-conductors").row(awg=awg).number("breaker_limit"))
