"""The supply at the receptacle: two legs of a split phase, or two phases of a wye."""

from __future__ import annotations

import cmath
import math


def leg_to_leg(leg_volts: float, apart_degrees: float = 180.0) -> float:
    """Return the volts between two legs of ``leg_volts`` V to neutral, ``apart_degrees`` apart.

    |V - V·e^(-jφ)|: 180° is a split phase (240 V from 120 V), 120° a wye (208 V from 120 V).
    Source: Lessons in Electric Circuits II, polyphase circuits.
    """
    return abs(leg_volts - cmath.rect(leg_volts, -math.radians(apart_degrees)))


def power_share(volts: float, rated_volts: float) -> float:
    """Return the share (0 to 1) of its rated watts that a fixed resistance takes at ``volts`` V: (V/V_rated)²."""
    return (volts / rated_volts) ** 2


def dryer_demand(nameplate_va: float) -> float:
    """Return the demand in VA that a service reckons for one household dryer.

    The greater of 5000 VA and the nameplate. Source: NEC 220.54, read at second hand; local code decides.
    """
    return max(5000.0, nameplate_va)
