"""What there is to work out in lesson 09, open and close."""

from __future__ import annotations

from dryerbench.bench.machine import ELEMENTS
from dryerbench.bench.meter_ranges import Range, ranges
from dryerbench.course.models import Task, Way
from dryerbench.electricity import conductors, ohms_law

HOT_FACTOR = conductors.hot_factor(500.0)
"""What the ohms of a working element are times their cold ohms (table ``nichrome-80-20`` at 500 °C)."""


def jaw_range() -> Range:
    """Return the clamp's range that a dryer's line current falls in."""
    return ranges("clamp")[0]


def jaw_off(amps: float) -> float:
    """Return by how many amps the clamp may be off when it shows ``amps`` A."""
    return jaw_range().band(amps).high - amps


def predicted(volts: float, ohms: float) -> float:
    """Return the amps that three elements of ``ohms`` Ω cold each take side by side, hot, on ``volts`` V."""
    return ohms_law.current(volts, ohms_law.parallel([ohms] * len(ELEMENTS)) * HOT_FACTOR)


def _cold(volts: float, ohms: float) -> float:
    return predicted(volts, ohms) * HOT_FACTOR


def _percent(amps: float) -> float:
    return jaw_range().percent / 100.0 * amps


TASKS: dict[str, Task] = {
    "predicted_amps": Task(
        predicted,
        {
            "cold_prediction": _cold,
            "factor_wrong_way": lambda volts, ohms: _cold(volts, ohms) * HOT_FACTOR,
            "one_leg": lambda volts, ohms: predicted(volts / 2, ohms),
            "one_element": lambda volts, ohms: predicted(volts, ohms) / len(ELEMENTS),
            "series_for_parallel": lambda volts, ohms: predicted(volts, ohms) / len(ELEMENTS) ** 2,
        },
        (
            Way(lambda whole, /, volts, ohms: ohms_law.current(volts, whole(ohms / len(ELEMENTS) * HOT_FACTOR))),
            Way(
                lambda cold, whole, /, volts, ohms: ohms_law.current(
                    volts, whole(cold(ohms / len(ELEMENTS)) * HOT_FACTOR)
                )
            ),
            Way(lambda one, /, volts, ohms: len(ELEMENTS) * ohms_law.current(volts, one(ohms * HOT_FACTOR))),
            Way(
                lambda one, amps, /, volts, ohms: len(ELEMENTS) * amps(ohms_law.current(volts, one(ohms * HOT_FACTOR)))
            ),
            Way(lambda amps, /, volts, ohms: amps(_cold(volts, ohms)) / HOT_FACTOR),
        ),
    ),
    "clamp_off": Task(
        jaw_off,
        {
            "counts_left_out": _percent,
            "percent_left_out": lambda amps: jaw_off(0.0),
            "counts_as_amps": lambda amps: _percent(amps) + jaw_range().counts,
        },
        (Way(lambda share, /, amps: share.factor(_percent(amps)) + jaw_off(0.0)),),
    ),
}
