"""The heater's line as a chain: its contacts from leg 1 to leg 2, the places that can be open, how fast it is split."""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import lru_cache

from dryerbench.bench.faults import read_fault
from dryerbench.bench.machine import Machine
from dryerbench.bench.situation import Situation, settle
from dryerbench.bench.states import named_state
from dryerbench.core.errors import OutOfRangeError

CONTACTS: dict[str, tuple[str, str, str]] = {
    "control-open": ("control contact", "H1", "H2"),
    "cycling-open": ("cycling thermostat", "H3", "H4"),
    "cut-off-blown": ("thermal cut-off", "H5", "H6"),
    "high-limit-open": ("high limit", "H7", "H8"),
    "motor-heat-contact-open": ("centrifugal switch", "M1", "M2"),
}
"""Every contact of the heater's line by the fault that opens it: its name, its end toward leg 1 and its other end."""

LINE = ("L1", "H1", "H2", "H3", "H4", "H5", "H6", "H7", "H8")
"""The points before the elements, in order; between every two of them there is one place that can be open."""


@lru_cache(maxsize=512)
def heating(machine: Machine, fault: str = "") -> Situation:
    """Return ``machine`` with its motor running and heat asked for, with ``fault`` if one is named.

    Raises
    ------
    FaultError
        For a fault that the catalogue does not have.
    """
    faults = (read_fault(fault),) if fault else ()
    return settle(machine, faults, named_state("heating"))[0]


def volts(situation: Situation, a: str, b: str) -> float:
    """Return the volts between two points, without a meter's load or error."""
    return abs(situation.live[a, b].volts)


def splits(places: int) -> int:
    """Return the most readings that half-splitting takes to find the one open of ``places`` places: log2, rounded up.

    Raises
    ------
    OutOfRangeError
        If there is no place.
    """
    if places < 1:
        raise OutOfRangeError("There has to be one place at least that can be open.")
    return math.ceil(math.log2(places))


def middle(start: str, end: str, line: tuple[str, ...] = LINE) -> str:
    """Return the point of ``line`` that leaves as many places on the one side as on the other, or one more after it.

    Raises
    ------
    OutOfRangeError
        If fewer than two places lie between ``start`` and ``end``.
    """
    first, last = line.index(start), line.index(end)
    if last - first < 2:
        raise OutOfRangeError(f"Between {start} and {end} there is nothing to split.")
    return line[(first + last) // 2]


def in_doubt(readings: Iterable[tuple[str, str, bool]], line: tuple[str, ...] = LINE) -> tuple[str, ...]:
    """Return the points of ``line`` from the start to the end of what can still be open; empty if nothing can.

    ``readings`` are stretches read dead, each with whether it was open; one place of the line is open at most.
    """
    places = set(range(len(line) - 1))
    for a, b, is_open in readings:
        read = set(range(line.index(a), line.index(b)))
        places = places & read if is_open else places - read
    return line[min(places) : max(places) + 2] if places else ()
