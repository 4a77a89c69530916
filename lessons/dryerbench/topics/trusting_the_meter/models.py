"""What there is to work out in lesson 04, trusting the meter."""

from __future__ import annotations

import math

from dryerbench.answers.tolerance import accuracy_band, round_half_up
from dryerbench.course.models import Task, Way


def _width(reading: float, percent: float, counts: int, count: float) -> float:
    return accuracy_band(reading, percent, counts, count).high - reading


def _half_over(reading: float, percent: float, counts: int, count: float) -> float:
    """Return the width in the words for a customer's file, "give or take a half": up to the next half [Ω]."""
    return math.ceil(2.0 * _width(reading, percent, counts, count)) / 2.0


_GIVE_OR_TAKE = "In the words for the customer's file; two figures say it closer."
_AS_SHOWN = "To the last place that the display shows; two figures say it closer."

TASKS: dict[str, Task] = {
    "accuracy_width": Task(
        lambda reading, percent, counts, count, full_scale: _width(reading, percent, counts, count),
        {
            "percent_alone": lambda reading, percent, counts, count, full_scale: reading * percent / 100,
            "counts_alone": lambda reading, percent, counts, count, full_scale: counts * count,
            "counts_as_units": lambda reading, percent, counts, count, full_scale: _width(
                reading, percent, counts, 1.0
            ),
            "percent_of_full_scale": lambda reading, percent, counts, count, full_scale: _width(
                full_scale, percent, counts, count
            ),
        },
        (
            Way(
                lambda share, /, reading, percent, counts, count: (
                    share.factor(reading * percent / 100.0) + counts * count
                )
            ),
            Way(_half_over, _GIVE_OR_TAKE),
            Way(
                lambda reading, percent, counts, count: round_half_up(_width(reading, percent, counts, count), count),
                _AS_SHOWN,
            ),
        ),
    ),
    "low_end": Task(
        lambda reading, percent, counts, count: accuracy_band(reading, percent, counts, count).low,
        {
            "percent_alone": lambda reading, percent, counts, count: reading * (1 - percent / 100),
            "counts_alone": lambda reading, percent, counts, count: reading - counts * count,
            "counts_as_units": lambda reading, percent, counts, count: accuracy_band(reading, percent, counts, 1.0).low,
            "other_end": lambda reading, percent, counts, count: accuracy_band(reading, percent, counts, count).high,
            "width_for_end": _width,
        },
        (
            Way(lambda off, /, reading, percent, counts, count: reading - off(_width(reading, percent, counts, count))),
            Way(
                lambda share, /, reading, percent, counts, count: (
                    reading - share(reading * percent / 100.0) - counts * count
                )
            ),
        ),
    ),
    "percent_on_range": Task(
        lambda reading, percent, counts, count, fine: 100 * _width(reading, percent, counts, count) / reading,
        {
            "percent_alone": lambda reading, percent, counts, count, fine: percent,
            "count_of_fine_range": lambda reading, percent, counts, count, fine: (
                100 * _width(reading, percent, counts, fine) / reading
            ),
            "ohms_for_percent": lambda reading, percent, counts, count, fine: _width(reading, percent, counts, count),
            "share_not_percent": lambda reading, percent, counts, count, fine: (
                _width(reading, percent, counts, count) / reading
            ),
        },
        (
            Way(
                lambda off, /, reading, percent, counts, count: (
                    100.0 * off(_width(reading, percent, counts, count)) / reading
                )
            ),
            Way(
                lambda share, /, reading, percent, counts, count: (
                    100.0 * (share.factor(reading * percent / 100.0) + counts * count) / reading
                )
            ),
            Way(
                lambda steps, /, reading, percent, counts, count: (
                    percent + steps.factor(100.0 * counts * count / reading)
                )
            ),
        ),
    ),
    "without_leads": Task(
        lambda reading, leads: reading - leads,
        {
            "leads_left_in": lambda reading, leads: reading,
            "leads_added": lambda reading, leads: reading + leads,
            "leads_taken_twice": lambda reading, leads: reading - 2 * leads,
        },
    ),
    "volts_through_path": Task(
        lambda volts, path, meter: volts * meter / (meter + path),
        {
            "meter_takes_nothing": lambda volts, path, meter: volts,
            "volts_left_in_path": lambda volts, path, meter: volts * path / (meter + path),
            "path_over_meter": lambda volts, path, meter: volts * path / meter,
        },
        (
            Way(lambda share, /, volts, path, meter: volts * share.factor(meter / (meter + path))),
            Way(lambda microamps, /, volts, path, meter: microamps(volts / (meter + path)) * meter),
            Way(lambda lost, /, volts, path, meter: volts - lost(volts * path / (meter + path))),
        ),
    ),
}
