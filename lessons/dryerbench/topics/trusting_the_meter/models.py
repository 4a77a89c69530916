"""What there is to work out in lesson 04, trusting the meter."""

from __future__ import annotations

from dryerbench.answers.tolerance import accuracy_band
from dryerbench.course.models import Task


def _width(reading: float, percent: float, counts: int, count: float) -> float:
    return accuracy_band(reading, percent, counts, count).high - reading


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
    ),
}
