"""The readings that show a fault, worked out on a machine: what the catalogue says, and what the solver says."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from dryerbench.circuits.solver import Solution
from dryerbench.family.fault_file import FaultReading
from dryerbench.family.fault_targets import Target
from dryerbench.family.faults import Fault, target_of
from dryerbench.family.kinds import HEATS, SELECTOR_CONTACTS, Component
from dryerbench.family.machine import Machine
from dryerbench.family.readings import MOST_OHMS
from dryerbench.family.settings import Setting, read_setting
from dryerbench.family.settling import settle
from dryerbench.family.wiring import node

LOW_IMPEDANCE = 3000.0
"""What a meter on low impedance loads two points with [Ω]."""
_BEYOND = 20  # °F past a mark
_UNITS = {"ohm": 1.0, "kohm": 1e3, "Mohm": 1e6, "V": 1.0}
_N = r"([\d.]+)"


@dataclass(frozen=True, slots=True)
class Bounds:
    """What a reading may be: from ``low`` to ``high`` in Ω or V (or outside); ``words`` are the catalogue's own."""

    low: float
    high: float
    words: str
    outside: bool = False

    def holds(self, value: float) -> bool:
        """Return whether ``value`` lies within."""
        return (self.low <= value <= self.high) != self.outside


@dataclass(frozen=True, slots=True)
class ShownBy:
    """One reading of one fault on one machine: two points, a state, and what it must and what a sound one must show."""

    fault: Fault
    a: str
    b: str
    state: str
    bad: Bounds
    good: Bounds

    @property
    def telling(self) -> bool:
        """Whether it tells this fault from a sound machine."""
        return self.bad.outside or self.bad.low >= self.good.high or self.bad.high <= self.good.low


def _open_position(machine: Machine, part: Component) -> str:
    """Return a position of dial or selector in which the contact is open."""
    heats = machine.arrangement.heats
    choices = heats if part.kind.name in SELECTOR_CONTACTS else ("air", "off", *heats)
    return next((word for word in choices if word not in part.on), "off")


def _filled(text: str, machine: Machine, target: Target) -> str:
    made = machine.arrangement
    words = {"top": made.heats[0]}
    words |= {str(place): point for place, point in enumerate(target.points, start=1)}
    part = made.by_name.get(target.name)
    if part is not None:
        on = next((word for word in part.on if word in (*HEATS, "air")), made.heats[0])
        words |= {"on": on, "not": _open_position(machine, part)}
        if "opens" in part.numbers:
            mark = machine.number(part.name, "opens")
            words |= {"below": f"{mark - _BEYOND:.0f}", "above": f"{mark + _BEYOND:.0f}"}
    return re.sub(r"\{(\w+)\}", lambda found: words[found[1]], text)


def _sheet_ohms(machine: Machine, target: Target) -> float:
    name = target.part if target.part.startswith("coil ") else target.name
    return machine.number(name, "ohms")


def _value(words: str, machine: Machine, fault: Fault, target: Target) -> float:
    """Return the number that words such as ``sheet times 1-S``, ``leg`` or ``0.98 line`` mean."""
    base, _, factor = words.partition(" times ")
    share = {"": 1.0, "S": fault.strength or 0.0, "1-S": 1.0 - (fault.strength or 0.0)}[factor]
    site = machine.site
    if base == "sheet":
        return share * _sheet_ohms(machine, target)
    if base == "run and start":
        return machine.number(target.name, "run") + machine.number(target.name, "start")
    if base in ("run", "start"):
        return share * machine.number(target.name, base)
    scale, _, volts = base.rpartition(" ")
    if volts in ("line", "leg"):
        return share * float(scale or 1.0) * (site.leg_to_leg if volts == "line" else site.leg_volts)
    if base == "S ohm":
        return fault.strength or 0.0
    number, unit = base.split()
    return float(number) * _UNITS[unit]


def _bounds(words: str, machine: Machine, fault: Fault, target: Target) -> Bounds:
    if words == "OL":
        return Bounds(MOST_OHMS, math.inf, words)
    head, _, rest = words.partition(" ")
    if head in ("over", "under"):
        edge = _value(rest, machine, fault, target)
        return Bounds(edge, math.inf, words) if head == "over" else Bounds(0.0, edge, words)
    if head == "not":
        band = _bounds(rest, machine, fault, target)
        return Bounds(band.low, band.high, words, outside=True)
    value = _value(words, machine, fault, target)
    volts = "V" in words or words.split(maxsplit=1)[0] in ("line", "leg")
    slack = max(0.04 * value, 2.5) if volts else max(0.03 * value, 0.15)
    return Bounds(max(0.0, value - slack), value + slack, words)


def _told(machine: Machine, fault: Fault, target: Target, reading: FaultReading) -> ShownBy:
    def fill(text: str) -> str:
        return _filled(text, machine, target)

    return ShownBy(
        fault,
        fill(reading.a),
        fill(reading.b),
        fill(reading.state),
        _bounds(fill(reading.bad), machine, fault, target),
        _bounds(fill(reading.good), machine, fault, target),
    )


def shown_by(machine: Machine, fault: Fault) -> Iterator[ShownBy]:
    """Yield the readings that show ``fault`` on ``machine``, with the bounds that the catalogue promises.

    Raises
    ------
    UnknownFaultError
        If this machine cannot have the fault.
    """
    target = target_of(machine.arrangement, fault)
    for reading in fault.kind.reads:
        yield _told(machine, fault, target, reading)


def loaded(live: Solution, a: str, b: str) -> float:
    """Return the volts between two points that a meter on low impedance shows."""
    pair = live[a, b]
    return abs(pair.volts * LOW_IMPEDANCE / (LOW_IMPEDANCE + pair.ohms))


def read_at(machine: Machine, faults: tuple[Fault, ...], a: str, b: str, state: str) -> float:
    """Return what a good meter reads between two points in a state: Ω dead, V (on low impedance) live.

    A receptacle is live whether the dryer is plugged in or not.

    Raises
    ------
    SettingError
        For a state that does not exist.
    CircuitError
        For a point that does not exist.
    """
    setting = read_setting(state)
    a, b = node(a), node(b)
    receptacle = a.startswith("outlet-") and b.startswith("outlet-")
    if setting.powered or receptacle:
        return loaded(_solved(machine, faults, setting, live=True), a, b)
    return abs(_solved(machine, faults, setting, live=False)[a, b].ohms.real)


@lru_cache(maxsize=512)
def _solved(machine: Machine, faults: tuple[Fault, ...], setting: Setting, *, live: bool) -> Solution:
    """Return a settled machine solved; a case asked again is not solved again."""
    settled = settle(machine, faults, setting)
    return settled.live if live else settled.dead
