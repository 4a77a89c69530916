"""What there is to work out in lesson 03, heater power."""

from __future__ import annotations

import math
from collections.abc import Sequence

from dryerbench.core.temperatures import celsius
from dryerbench.course.models import Ideas, Rounding, Task, Way
from dryerbench.electricity import conductors, ohms_law, supply

ALPHA_TEXTBOOK = 0.0004
"""Temperature coefficient of nichrome per °C near 20 °C (OpenStax College Physics 2e)."""

STANDARD_BREAKERS = (15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0)
"""Standard ratings in A (NEC 240.6(A), from memory)."""

LEG_VOLTS, HOUSE_VOLTS, WYE_VOLTS = 120.0, 240.0, 208.0
"""The round volts of the lesson [V]: one leg, leg to leg, and leg to leg off three phases."""

ABOUT_A_LEG = f"That is what the lesson calls a leg, about {LEG_VOLTS:g} V. Your card says how many it is today."
_THREE_QUARTERS = "By the lesson's rule of thumb for 240 V; on your own volts it comes out a little different."
_TWO_THIRDS = "By the lesson's rule of thumb for three equal coils; on yours it comes out a little different."


def _fahrenheit_slip(cold: float, fahrenheit: float) -> float:
    hottest = conductors.hottest_celsius()
    return cold * conductors.hot_factor(fahrenheit) if fahrenheit <= hottest else math.nan


def _all_amps(amps: Rounding, volts: float, ohms: Sequence[float]) -> float:
    """Return the amps [A] of coils side by side, those of each written down first."""
    return sum(amps(ohms_law.current(volts, each)) for each in ohms)


def _pairwise(pair: Rounding, ohms: Sequence[float], last: int) -> float:
    """Return ``ohms`` [Ω] side by side: two of three first, then the one in place ``last``."""
    two = [each for place, each in enumerate(ohms) if place != last]
    return ohms_law.parallel([pair(ohms_law.parallel(two)), ohms[last]])


def _drop_in_series(run: Rounding, volts: float, amps: float, feet: float, awg: int) -> float:
    """Return the volts [V] lost where the wire's own ohms also hold the current back."""
    wire = run(conductors.run_ohms(feet, awg))
    return ohms_law.current(volts, volts / amps + wire) * wire


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
            "ohms_for_amps": lambda volts, amps, ohms: volts * ohms,
        },
        (
            Way(lambda volts, ohms: ohms_law.power(volts, ohms)),
            Way(lambda amps, /, volts, ohms: volts * amps(ohms_law.current(volts, ohms))),
            Way(lambda amps, /, volts, ohms: amps(ohms_law.current(volts, ohms)) ** 2 * ohms),
        ),
    ),
    "side_by_side": Task(
        lambda ohms: ohms_law.parallel(ohms),
        {
            "series_for_parallel": lambda ohms: ohms_law.series(ohms),
            "forgot_last_turn": lambda ohms: 1.0 / ohms_law.parallel(ohms),
            "average_of_three": lambda ohms: ohms_law.series(ohms) / len(ohms),
        },
        (
            Way(lambda one, all_, /, ohms: 1.0 / all_.fine(sum(one.factor(1.0 / each) for each in ohms))),
            Way(lambda amps, line, /, ohms, volts=HOUSE_VOLTS: volts / line(_all_amps(amps, volts, ohms))),
            Way(lambda pair, /, ohms: _pairwise(pair, ohms, 0)),
            Way(lambda pair, /, ohms: _pairwise(pair, ohms, 1)),
            Way(lambda pair, /, ohms: _pairwise(pair, ohms, 2)),
        ),
    ),
    "line_amps": Task(
        lambda volts, heater_ohms, ohms: ohms_law.current(volts, heater_ohms),
        {
            "one_leg": lambda volts, heater_ohms, ohms: ohms_law.current(volts / 2, heater_ohms),
            "series_for_parallel": lambda volts, heater_ohms, ohms: ohms_law.current(volts, ohms_law.series(ohms)),
            "one_element": lambda volts, heater_ohms, ohms: ohms_law.current(volts, ohms[0]),
            "upside_down": lambda volts, heater_ohms, ohms: heater_ohms / volts,
        },
        (
            Way(lambda whole, /, volts, heater_ohms: ohms_law.current(volts, whole(heater_ohms))),
            Way(lambda amps, /, volts, ohms: _all_amps(amps, volts, ohms)),
            Way(lambda pair, whole, /, volts, ohms: ohms_law.current(volts, whole(_pairwise(pair, ohms, 0)))),
            Way(lambda pair, whole, /, volts, ohms: ohms_law.current(volts, whole(_pairwise(pair, ohms, 1)))),
            Way(lambda pair, whole, /, volts, ohms: ohms_law.current(volts, whole(_pairwise(pair, ohms, 2)))),
        ),
    ),
    "line_watts": Task(
        lambda volts, amps, ohms: volts * amps,
        {
            "one_leg": lambda volts, amps, ohms: ohms_law.power(volts / 2, ohms_law.parallel(ohms)),
            "series_for_parallel": lambda volts, amps, ohms: ohms_law.power(volts, ohms_law.series(ohms)),
            "one_element": lambda volts, amps, ohms: ohms_law.power(volts, ohms[0]),
            "forgot_square": lambda volts, amps, ohms: volts / ohms_law.parallel(ohms),
        },
        (
            Way(lambda line, /, volts, amps: volts * line(amps)),
            Way(lambda each, line, /, volts, ohms: volts * line(_all_amps(each, volts, ohms))),
            Way(lambda each, /, volts, ohms: sum(each(ohms_law.power(volts, one)) for one in ohms)),
            Way(lambda amps, /, volts, ohms: sum(volts * amps(ohms_law.current(volts, one)) for one in ohms)),
            Way(lambda whole, /, volts, ohms: ohms_law.power(volts, whole(ohms_law.parallel(ohms)))),
            Way(lambda line, whole, /, amps, ohms: line(amps) ** 2 * whole(ohms_law.parallel(ohms))),
        ),
    ),
    "watts_elsewhere": Task(
        lambda watts, rated, volts: watts * supply.power_share(volts, rated),
        {
            "forgot_square": lambda watts, rated, volts: watts * volts / rated,
            "wye_leg": lambda watts, rated, volts: watts * supply.power_share(volts / math.sqrt(3.0), rated),
            "no_change": lambda watts, rated, volts: watts,
        },
        (
            Way(lambda share, /, watts, rated, volts: watts * share.factor(supply.power_share(volts, rated))),
            Way(lambda ratio, /, watts, rated, volts: watts * ratio.factor(volts / rated) ** 2),
            Way(lambda whole, /, watts, rated, volts: ohms_law.power(volts, whole(rated**2 / watts))),
            Way(
                lambda whole, line, /, watts, rated, volts: (
                    volts * line(ohms_law.current(volts, whole(rated**2 / watts)))
                )
            ),
            Way(lambda each, line, /, volts, ohms: volts * line(_all_amps(each, volts, ohms))),
            Way(lambda each, /, volts, ohms: sum(each(ohms_law.power(volts, one)) for one in ohms)),
            Way(
                lambda share, /, watts, volts: (
                    watts * share.factor(supply.power_share(WYE_VOLTS, HOUSE_VOLTS)) if volts == WYE_VOLTS else math.nan
                ),
                _THREE_QUARTERS,
            ),
        ),
    ),
    "share_left": Task(
        lambda rated, volts: 100.0 * supply.power_share(volts, rated),
        {
            "forgot_square": lambda rated, volts: 100.0 * volts / rated,
            "lost_not_left": lambda rated, volts: 100.0 * (1.0 - supply.power_share(volts, rated)),
            "share_not_percent": lambda rated, volts: supply.power_share(volts, rated),
        },
        (
            Way(lambda ratio, /, rated, volts: 100.0 * ratio.factor(volts / rated) ** 2),
            Way(
                lambda now, usual, /, rated, volts, watts: (
                    100.0 * now(watts * supply.power_share(volts, rated)) / usual(watts)
                )
            ),
            Way(
                lambda now, /, rated, volts, element_ohms: (
                    100.0 * now(ohms_law.power(volts, element_ohms)) / now(ohms_law.power(rated, element_ohms))
                )
            ),
        ),
    ),
    "amps_one_open": Task(
        lambda volts, line_amps, open_ohms: line_amps - ohms_law.current(volts, open_ohms),
        {
            "open_stops_all": lambda volts, line_amps, open_ohms: 0.0,
            "open_changes_nothing": lambda volts, line_amps, open_ohms: line_amps,
            "part_that_stopped": lambda volts, line_amps, open_ohms: ohms_law.current(volts, open_ohms),
            "one_leg": lambda volts, line_amps, open_ohms: (line_amps - ohms_law.current(volts, open_ohms)) / 2,
        },
        (
            Way(
                lambda line, amps, /, volts, line_amps, open_ohms: (
                    line(line_amps) - amps(ohms_law.current(volts, open_ohms))
                )
            ),
            Way(lambda amps, /, volts, working: _all_amps(amps, volts, working)),
            Way(lambda pair, /, volts, working: ohms_law.current(volts, pair(ohms_law.parallel(working)))),
            Way(lambda line, share, /, line_amps: line(line_amps) * share.factor(2.0 / 3.0), _TWO_THIRDS),
        ),
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
        (
            Way(
                lambda factor, /, cold, fahrenheit: (
                    cold * factor.factor(conductors.hot_factor(round(celsius(fahrenheit))))
                )
            ),
        ),
    ),
    "run_drop": Task(
        lambda amps, feet, awg: conductors.run_drop(amps, feet, awg),
        {
            "one_way_run": lambda amps, feet, awg: conductors.run_drop(amps, feet, awg) / 2,
            "per_thousand_feet": lambda amps, feet, awg: conductors.run_drop(amps, 1000.0, awg),
        },
        (
            Way(lambda line, run, /, amps, feet, awg: line(amps) * run.factor(conductors.run_ohms(feet, awg))),
            Way(lambda one, /, amps, feet, awg: 2.0 * one(amps * conductors.run_ohms(feet, awg) / 2.0)),
            Way(lambda run, /, volts, amps, feet, awg: _drop_in_series(run, volts, amps, feet, awg)),
        ),
    ),
    "breaker_share": Task(
        lambda amps, breaker: 100.0 * amps / breaker,
        {
            "share_upside_down": lambda amps, breaker: 100.0 * breaker / amps,
            "share_not_percent": lambda amps, breaker: amps / breaker,
        },
        (
            Way(lambda line, /, amps, breaker: 100.0 * line(amps) / breaker),
            Way(lambda share, /, amps, breaker: 100.0 * share.factor(amps / breaker)),
            Way(lambda each, /, volts, ohms, breaker: 100.0 * _all_amps(each, volts, ohms) / breaker),
        ),
    ),
    "case_volts_control_off": Task(
        lambda volts: volts / 2,
        {
            "off_means_dead": lambda volts: 0.0,
            "leg_to_leg_to_case": lambda volts: volts,
        },
        (Way(lambda half, /, volts: half(volts / 2)), Way(lambda: LEG_VOLTS, ABOUT_A_LEG)),
        Ideas("one leg", {"off_means_dead": "nothing", "leg_to_leg_to_case": "leg to leg"}),
    ),
    "breaker_for_wire": Task(
        lambda awg, amps: conductors.breaker_limit(awg),
        {
            "dryer_is_thirty": lambda awg, amps: 30.0,
            "sized_to_load": lambda awg, amps: _next_breaker(1.25 * amps),
        },
    ),
}
