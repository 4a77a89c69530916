"""What there is to work out in lesson 10, from the call to the close. All prices are invented."""

from __future__ import annotations

from math import nan

from dryerbench.course.models import Rounding, Task, Way
from dryerbench.electricity.ohms_law import current, series


def _price(minutes: float, rate: float, trip_charge: float, parts: float) -> float:
    """Return the price of a call in dollars: trip charge, part, and labor for ``minutes`` at ``rate`` an hour."""
    return trip_charge + parts + rate * minutes / 60.0


def _by_hours(hours: Rounding, labor: Rounding, minutes: float, rate: float, trip_charge: float, parts: float) -> float:
    """Return the price in dollars with the hours, then the labor, written down on the way."""
    return trip_charge + parts + labor(rate * hours(minutes / 60.0))


def _in_series(volts: float, ohms: tuple[float, ...]) -> float:
    """Return the amps of coils taken for one behind the other; there is none of it for a single coil."""
    return current(volts, series(ohms)) if len(ohms) > 1 else nan


def _one_coil(volts: float, ohms: tuple[float, ...]) -> float:
    return current(volts, ohms[0]) if len(ohms) > 1 else nan


def _coil_by_coil(amps: Rounding, volts: float, ohms: tuple[float, ...]) -> float:
    return sum(amps(current(volts, one)) for one in ohms)


TASKS: dict[str, Task] = {
    "call_amps": Task(
        lambda volts, heater_ohms: current(volts, heater_ohms),
        {
            "one_leg": lambda volts, heater_ohms: current(volts / 2.0, heater_ohms),
            "series_for_parallel": lambda volts, ohms: _in_series(volts, ohms),
            "one_element": lambda volts, ohms: _one_coil(volts, ohms),
            "upside_down": lambda volts, heater_ohms: heater_ohms / volts,
        },
        (
            Way(lambda whole, /, volts, heater_ohms: current(volts, whole(heater_ohms))),
            Way(lambda amps, /, volts, ohms: _coil_by_coil(amps, volts, ohms)),
        ),
    ),
    "call_minutes": Task(
        lambda drive, find, fix: 2.0 * drive + find + fix,
        {
            "one_way_drive": lambda drive, find, fix: drive + find + fix,
            "fitting_only": lambda drive, find, fix: fix,
            "finding_is_free": lambda drive, find, fix: 2.0 * drive + fix,
        },
    ),
    "quote_share": Task(
        lambda minutes, rate, trip_charge, parts, new_price: (
            100.0 * _price(minutes, rate, trip_charge, parts) / new_price
        ),
        {
            "no_trip_charge": lambda minutes, rate, trip_charge, parts, new_price: (
                100.0 * _price(minutes, rate, 0.0, parts) / new_price
            ),
            "part_alone": lambda minutes, rate, trip_charge, parts, new_price: 100.0 * parts / new_price,
            "minutes_as_hours": lambda minutes, rate, trip_charge, parts, new_price: (
                100.0 * _price(60.0 * minutes, rate, trip_charge, parts) / new_price
            ),
            "share_not_percent": lambda minutes, rate, trip_charge, parts, new_price: (
                _price(minutes, rate, trip_charge, parts) / new_price
            ),
            "quote_upside_down": lambda minutes, rate, trip_charge, parts, new_price: (
                100.0 * new_price / _price(minutes, rate, trip_charge, parts)
            ),
        },
        (
            Way(
                lambda hours, labor, /, minutes, rate, trip_charge, parts, new_price: (
                    100.0 * _by_hours(hours, labor, minutes, rate, trip_charge, parts) / new_price
                )
            ),
            Way(
                lambda price, /, minutes, rate, trip_charge, parts, new_price: (
                    100.0 * price(_price(minutes, rate, trip_charge, parts)) / new_price
                )
            ),
        ),
    ),
}
