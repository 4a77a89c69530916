"""What the lessons teach: the reading that shows each fault, and the lesson from which on it can be asked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache

from dryerbench.bench.faults import Fault
from dryerbench.bench.machine import Machine
from dryerbench.bench.meter import Meter
from dryerbench.bench.situation import settle
from dryerbench.bench.states import State
from dryerbench.core.tables import table

_METER = Meter()
_STATES = {
    "cold": State(plugged=False),
    "heat asked for": State(plugged=False, calling=True),
    "held at 76 °C": State(plugged=False, exhaust_celsius=76.0, limit_celsius=76.0),
    "held at 140 °C": State(plugged=False, exhaust_celsius=140.0, limit_celsius=140.0),
    "receptacle": State(plugged=False),
    "heating": State(running=True, calling=True, exhaust_celsius=45.0, limit_celsius=95.0, element_celsius=500.0),
}


@dataclass(frozen=True)
class TaughtReading:
    """One row: the fault that it shows, its lesson, how it is read, and the bands (Ω or V; inf for OL)."""

    fault: str
    lesson: str
    mode: str
    places: tuple[str, ...]
    state: str
    pulled: frozenset[str]
    sound: tuple[float, float]
    faulty: tuple[float, float]

    def shown(self, machine: Machine, faults: Sequence[Fault]) -> float:
        """Return what this reading shows on ``machine`` with ``faults`` (Ω or V; inf for OL; for a look 1 or 0)."""
        if self.mode == "look":
            return float(any(fault.name == "blocked-vent" for fault in faults))
        state = replace(_STATES[self.state], pulled=self.pulled)
        reading = _METER.read(settle(machine, faults, state)[0], self.mode, *self.places)
        return float("inf") if reading.value is None else reading.value

    def is_sound(self, value: float) -> bool:
        """Return whether ``value`` is what a sound machine shows."""
        return self.sound[0] <= value <= self.sound[1]

    def is_faulty(self, value: float) -> bool:
        """Return whether ``value`` shows the fault."""
        return self.faulty[0] <= value <= self.faulty[1]


@cache
def taught() -> tuple[TaughtReading, ...]:
    """Return all rows of the table ``taught-readings``."""
    return tuple(
        TaughtReading(
            row.text("fault"),
            row.text("lesson"),
            row.text("mode"),
            tuple(str(place) for place in (row["a"], row["b"]) if place),
            row.text("state"),
            frozenset(name for name in str(row["wires"] or "").split(";") if name),
            (row.number("sound_low"), row.number("sound_high")),
            (row.number("faulty_low"), row.number("faulty_high")),
        )
        for row in table("taught-readings").rows
    )


def taught_by(lesson: str) -> tuple[TaughtReading, ...]:
    """Return the readings that ``lesson`` or one before it teaches."""
    return tuple(row for row in taught() if row.lesson <= lesson)
