"""What there is to work out in lesson 10, from the call to the close. All prices are invented."""

from __future__ import annotations

from dryerbench.course.models import Rounding, Task, Way


def _price(minutes: float, rate: float, trip_charge: float, parts: float) -> float:
    """Return the price of a call in dollars: trip charge, part, and labor for ``minutes`` at ``rate`` an hour."""
    return trip_charge + parts + rate * minutes / 60.0


def _by_hours(hours: Rounding, labor: Rounding, minutes: float, rate: float, trip_charge: float, parts: float) -> float:
    """Return the price in dollars with the hours, then the labor, written down on the way."""
    return trip_charge + parts + labor(rate * hours(minutes / 60.0))


TASKS: dict[str, Task] = {
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
