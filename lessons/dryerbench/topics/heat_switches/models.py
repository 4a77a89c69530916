"""What there is to work out in lesson 06, heat switches."""

from __future__ import annotations

import math

from dryerbench.air.thermistor import USUAL_OHMS, BetaThermistor
from dryerbench.core.errors import OutOfRangeError
from dryerbench.core.temperatures import celsius, fahrenheit
from dryerbench.course.models import Task, Way
from dryerbench.electricity import contacts


def _kilohms(sheet_ohms: float, degrees: float) -> float:
    return BetaThermistor(sheet_ohms).ohms(celsius(degrees)) / 1000.0


def _degrees(sheet_ohms: float, reads: float) -> float:
    try:
        return fahrenheit(BetaThermistor(sheet_ohms).celsius(reads))
    except OutOfRangeError:
        return math.nan


TASKS: dict[str, Task] = {
    "sensor_ohms": Task(
        lambda sheet_ohms, fahrenheit: _kilohms(sheet_ohms, fahrenheit),
        {
            "sensor_rises": lambda sheet_ohms, fahrenheit: sheet_ohms**2 / 1e6 / _kilohms(sheet_ohms, fahrenheit),
            "sensor_at_room": lambda sheet_ohms, fahrenheit: sheet_ohms / 1000.0,
            "sensor_of_ten": lambda sheet_ohms, fahrenheit: _kilohms(USUAL_OHMS, fahrenheit),
        },
        (
            Way(
                lambda factor, /, sheet_ohms, fahrenheit: (
                    sheet_ohms / 1000.0 * factor.factor(1000.0 * _kilohms(sheet_ohms, fahrenheit) / sheet_ohms)
                )
            ),
        ),
    ),
    "sensor_degrees": Task(
        lambda sheet_ohms, reads: _degrees(sheet_ohms, reads),
        {
            "sensor_rises": lambda sheet_ohms, reads: _degrees(sheet_ohms, sheet_ohms**2 / reads),
            "sensor_of_ten": lambda sheet_ohms, reads: _degrees(USUAL_OHMS, reads),
            "celsius_column": lambda sheet_ohms, reads: celsius(_degrees(sheet_ohms, reads)),
        },
    ),
    "contact_ohms": Task(
        lambda millivolts, amps: contacts.ohms_from_drop(millivolts, amps),
        {
            "amps_over_drop": lambda millivolts, amps: amps / (millivolts / 1000.0),
            "drop_times_amps": lambda millivolts, amps: millivolts / 1000.0 * amps,
        },
    ),
    "contact_heat": Task(
        lambda ohms, amps: contacts.watts(ohms, amps),
        {
            "amps_not_squared": lambda ohms, amps: ohms * amps,
            "ohms_squared": lambda ohms, amps: ohms * ohms * amps,
        },
        (
            Way(lambda square, /, ohms, amps: ohms * square(amps * amps)),
            Way(lambda contact, square, /, ohms, amps: contact.factor(ohms) * square(amps * amps)),
            Way(lambda drop, /, ohms, amps: drop.factor(ohms * amps) * amps),
            Way(lambda volts, /, millivolts, amps: volts.factor(millivolts / 1000.0) * amps),
        ),
    ),
}
