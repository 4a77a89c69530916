"""Current to the case: how much a sound appliance may leak, and when a ground-fault interrupter trips."""

from __future__ import annotations

INTERRUPTER_TRIPS = 6.0
"""mA at which a class A ground-fault interrupter must trip; below 4 mA it must not (UL 943 as quoted)."""
INTERRUPTER_HOLDS = 4.0


def interrupter_seconds(milliamps: float) -> float:
    """Return the longest time in s that a class A interrupter may take at ``milliamps`` mA: (20/I)^1.43.

    Source: UL 943 as quoted (read at second hand). Infinite below 6 mA, where it need not trip.
    """
    if milliamps < INTERRUPTER_TRIPS:
        return float("inf")
    return float((20.0 / milliamps) ** 1.43)


def leakage_limit(kilowatts: float) -> float:
    """Return the mA that a class I stationary heating appliance of ``kilowatts`` kW may leak.

    The greater of 0.75 mA and 0.75 mA/kW, 5 mA at most. Source: IEC 60335-1 clause 13.2 as quoted (second hand).
    """
    return min(5.0, max(0.75, 0.75 * kilowatts))
