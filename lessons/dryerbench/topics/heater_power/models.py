"""What there is to work out in lesson 03, heater power."""

from __future__ import annotations

import math

from dryerbench.core.temperatures import celsius
from dryerbench.course.models import Task
from dryerbench.electricity import conductors, ohms_law, supply

ALPHA_TEXTBOOK = 0.0004
"""Temperature coefficient of nichrome per °C near 20 °C (OpenStax College Physics 2e)."""

STANDARD_BREAKERS = (15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0)
"""Standard ratings in A (NEC 240.6(A), from memory)."""


def _fahrenheit_slip(cold: float, fahrenheit: float) -> float:
    hottest = conductors.hottest_celsius()
    return cold * conductors.hot_factor(fahrenheit) if fahrenheit <= hottest else math.nan


def _next_breaker(amps: float) -> float:
    return next((rating for rating in STANDARD_BREAKERS if rating >= amps), math.nan)


TASKS: dict[str, Task] = {
    "amps": Task(
        lambda volts, ohms: ohms_law.current(volts, ohms),
        {
            "one_leg": lambda volts, ohms: ohms_law.current(volts / 2, ohms),
            "upside_down": lambda volts, ohms: ohms / volts,
            "times_ohms": lambda volts, ohms: volts * ohms,
        },
    ),
    "watts": Task(
        lambda volts, amps, ohms: volts * amps,
        {
            "one_leg": lambda volts, amps, ohms: ohms_law.power(volts / 2, ohms),
            "forgot_square": lambda volts, amps, ohms: volts / ohms,
            "times_ohms": lambda volts, amps, ohms: volts * ohms,
        },
    ),
    "side_by_side": Task(
        lambda ohms: ohms_law.parallel(ohms),
        {
            "series_for_parallel": lambda ohms: ohms_law.series(ohms),
            "forgot_last_turn": lambda ohms: 1.0 / ohms_law.parallel(ohms),
            "average_of_three": lambda ohms: ohms_law.series(ohms) / len(ohms),
        },
    ),
    "line_amps": Task(
        lambda volts, heater_ohms, ohms: ohms_law.current(volts, heater_ohms),
        {
            "one_leg": lambda volts, heater_ohms, ohms: ohms_law.current(volts / 2, heater_ohms),
            "series_for_parallel": lambda volts, heater_ohms, ohms: ohms_law.current(volts, ohms_law.series(ohms)),
            "one_element": lambda volts, heater_ohms, ohms: ohms_law.current(volts, ohms[0]),
            "upside_down": lambda volts, heater_ohms, ohms: heater_ohms / volts,
        },
    ),
    "line_watts": Task(
        lambda volts, amps, ohms: volts * amps,
        {
            "one_leg": lambda volts, amps, ohms: ohms_law.power(volts / 2, ohms_law.parallel(ohms)),
            "series_for_parallel": lambda volts, amps, ohms: ohms_law.power(volts, ohms_law.series(ohms)),
            "one_element": lambda volts, amps, ohms: ohms_law.power(volts, ohms[0]),
            "forgot_square": lambda volts, amps, ohms: volts / ohms_law.parallel(ohms),
        },
    ),
    "watts_elsewhere": Task(
        lambda watts, rated, volts: watts * supply.power_share(volts, rated),
        {
            "forgot_square": lambda watts, rated, volts: watts * volts / rated,
            "wye_leg": lambda watts, rated, volts: watts * supply.power_share(volts / math.sqrt(3.0), rated),
            "no_change": lambda watts, rated, volts: watts,
        },
    ),
    "share_left": Task(
        lambda rated, volts: 100.0 * supply.power_share(volts, rated),
        {
            "forgot_square": lambda rated, volts: 100.0 * volts / rated,
            "lost_not_left": lambda rated, volts: 100.0 * (1.0 - supply.power_share(volts, rated)),
            "share_not_percent": lambda rated, volts: supply.power_share(volts, rated),
        },
    ),
    "amps_one_open": Task(
        lambda volts, line_amps, open_ohms: line_amps - ohms_law.current(volts, open_ohms),
        {
            "open_stops_all": lambda volts, line_amps, open_ohms: 0.0,
            "open_changes_nothing": lambda volts, line_amps, open_ohms: line_amps,
            "part_that_stopped": lambda volts, line_amps, open_ohms: ohms_law.current(volts, open_ohms),
            "one_leg": lambda volts, line_amps, open_ohms: (line_amps - ohms_law.current(volts, open_ohms)) / 2,
        },
    ),
    "percent_off": Task(
        lambda reading, sheet: 100.0 * (reading - sheet) / sheet,
        {
            "off_own_reading": lambda reading, sheet: 100.0 * (reading - sheet) / reading,
            "whole_not_change": lambda reading, sheet: 100.0 * reading / sheet,
            "share_not_percent": lambda reading, sheet: (reading - sheet) / sheet,
        },
    ),
    "hot_ohms": Task(
        lambda cold, fahrenheit: cold * conductors.hot_factor(celsius(fahrenheit)),
        {
            "fahrenheit_for_celsius": _fahrenheit_slip,
            "constant_coefficient": lambda cold, fahrenheit: (
                cold * conductors.constant_factor(celsius(fahrenheit), ALPHA_TEXTBOOK)
            ),
            "cold_ohms": lambda cold, fahrenheit: cold,
            "divided_by_factor": lambda cold, fahrenheit: cold / conductors.hot_factor(celsius(fahrenheit)),
        },
    ),
    "run_drop": Task(
        lambda amps, feet, awg: conductors.run_drop(amps, feet, awg),
        {
            "one_way_run": lambda amps, feet, awg: conductors.run_drop(amps, feet, awg) / 2,
            "per_thousand_feet": lambda amps, feet, awg: conductors.run_drop(amps, 1000.0, awg),
        },
    ),
    "breaker_share": Task(
        lambda amps, breaker: 100.0 * amps / breaker,
        {
            "share_upside_down": lambda amps, breaker: 100.0 * breaker / amps,
            "share_not_percent": lambda amps, breaker: amps / breaker,
        },
    ),
    "case_volts_control_off": Task(
        lambda volts: volts / 2,
        {
            "off_means_dead": lambda volts: 0.0,
            "leg_to_leg_to_case": lambda volts: volts,
        },
    ),
    "breaker_for_wire": Task(
        lambda awg, amps: conductors.breaker_limit(awg),
        {
            "dryer_is_thirty": lambda awg, amps: 30.0,
            "sized_to_load": lambda awg, amps: _next_breaker(1.25 * amps),
        },
    ),
}
