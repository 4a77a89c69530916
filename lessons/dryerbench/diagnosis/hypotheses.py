"""Which faults the readings of a bench still allow, pairs included: each is put in the machine and read again.

The odds of ``evidence`` take one fault for granted. Here a second fault beside the one found stays possible until a
reading has cleared it, and nothing is taken for wrong just because it is likely.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from dryerbench.bench.faults import Fault, FaultError, catalogue, fits, read_fault
from dryerbench.bench.heat import asked_for_each
from dryerbench.bench.machine import Machine
from dryerbench.bench.meter import DEAD_MODES, PROBE_MODES, Meter
from dryerbench.bench.probing import leak_milliamps
from dryerbench.bench.situation import Situation, solve_each
from dryerbench.bench.states import State
from dryerbench.bench.trail import Act
from dryerbench.bench.warm_places import weighs
from dryerbench.diagnosis.candidates import SOUND

_STRENGTHS = 7
_DECADES = 30.0  # a range of strengths wider than this is walked in equal ratios, none wider than two like readings
_CONTACT_OHMS = 3.0  # two readings of a closed contact may be some tenths of an ohm apart
_SAME_OHMS = 0.06  # difference of log10(Ω + 3) up to which two readings look alike
_SAME_VOLTS, _SAME_SHARE, _SAME_KELVIN = 4.0, 0.08, 8.0
_SAME_MILLIAMPS = 0.1
_METER = Meter()
_TOGETHER = 64
"""Candidates that are worked out together: each takes some 200 kB while it is solved."""


@dataclass(frozen=True)
class Seen:
    """One thing read or looked at: state asked for, mode, places, value (Ω, V, A, mA, °C; None for OL), range."""

    state: State
    mode: str
    places: tuple[str, ...]
    value: float | None
    full_scale: float | None = None
    nulled: bool = False


def seen_on(trail: Iterable[Act]) -> tuple[Seen, ...]:
    """Return what the acts of a bench's trail have read or looked at, as far as it can be weighed."""
    found: list[Seen] = []
    scale: float | None = None
    for act in trail:
        if act["act"] == "set_dial":
            given = act["with"].get("full_scale")
            scale = float(given) if isinstance(given, int | float) else None
        if act["act"] == "look_vent":
            found.append(Seen(State(), "look", ("vent",), 1.0 if act["facts"]["vent_blocked"] else 0.0))
        reading = act.get("gauge") if act["act"] == "leakage" else act.get("reading")
        if reading is None or (reading["value"] is None and reading["shown"] != "OL"):
            continue
        state = State.from_data(act["asked"])
        live = state.plugged and state.breaker_on
        places = tuple(reading["places"])
        if places == ("cord",) or (reading["mode"] in DEAD_MODES and live) or not weighs(reading["mode"], places):
            continue
        nulled = bool(act["facts"].get("nulled"))
        found.append(Seen(state, reading["mode"], places, reading["value"], scale, nulled))
    return tuple(dict.fromkeys(found))


class Hypotheses:
    """The readings of one job on one machine, held against what other faults would have made the meter show."""

    def __init__(self, machine: Machine, trail: Iterable[Act]) -> None:
        self.machine = machine
        self.seen = seen_on(trail)

    def allow(self, faults: Sequence[Fault]) -> bool:
        """Return whether a machine with ``faults`` would have read as it did."""
        return self._allowed([tuple(faults)])[0]

    def _allowed(self, candidates: Sequence[tuple[Fault, ...]]) -> list[bool]:
        """Return which of ``candidates`` would have read as it did; they are settled and solved together."""
        possible = list(range(len(candidates)))
        settled: dict[State, dict[int, tuple[Situation, Situation]]] = {}
        for one in self.seen:
            if one.state not in settled:
                there = asked_for_each(self.machine, [candidates[place] for place in possible], one.state)
                settled[one.state] = dict(zip(possible, there, strict=True))
            stands = settled[one.state]
            _solve_for(one, [now for place in possible for now in stands[place]])
            possible = [
                place
                for place in possible
                if any(_alike(one, _shown(now, candidates[place], one)) for now in stands[place])
            ]
        return [place in possible for place in range(len(candidates))]

    def which(self, names: Iterable[str], beside: Sequence[Fault] = ()) -> list[str]:
        """Return those of ``names`` which, of any strength, beside other faults would have read so."""
        asked = [(name, (*beside, *fault)) for name in names for fault in self._of_any_strength(name)]
        found: dict[str, None] = {}
        for start in range(0, len(asked), _TOGETHER):
            some = asked[start : start + _TOGETHER]
            allowed = self._allowed([faults for _, faults in some])
            found |= {name: None for (name, _), good in zip(some, allowed, strict=True) if good}
        return list(found)

    def _of_any_strength(self, name: str) -> list[tuple[Fault, ...]]:
        """Return the fault ``name`` in every strength that this machine can have it in; no fault for a sound one."""
        if name == SOUND:
            return [()]
        return [(fault,) for fault in _strengths(name, self.machine) if fits(fault, self.machine)]

    def allow_any(self, name: str, beside: Sequence[Fault] = ()) -> bool:
        """Return whether the fault ``name``, of any strength, beside other faults would have read so."""
        return bool(self.which([name], beside))

    def left(self, named: str, actual: Sequence[str], offered: Sequence[str], suspects: Sequence[str]) -> list[str]:
        """Return what is still possible beside or instead of ``named``; ``named`` alone if the readings show it.

        ``actual`` are the faults of the machine, ``offered`` the names to choose from, ``suspects`` those that must
        be cleared one by one, whatever else was found.
        """
        faults = [read_fault(text, self.machine) for text in actual]
        names = [fault.name for fault in faults] or [SOUND]
        parts = {catalogue(fault.name)["part"] for fault in faults}
        alone = self.which(name for name in offered if name not in names)
        others = (name for name in suspects if name not in names and catalogue(name)["part"] not in parts)
        beside = self.which(others, faults)
        unseen = [fault.name for fault in faults if fault.name in (named, *suspects)
                  and self.allow([other for other in faults if other != fault])]  # fmt: skip
        rest = dict.fromkeys((*alone, *beside, *(name for name in unseen if name != named)))
        return [named, *([SOUND] if named in unseen and SOUND not in rest else []), *rest]


def _strengths(name: str, machine: Machine) -> list[Fault]:
    try:
        usual = read_fault(name, machine)
    except FaultError:
        return []
    row = catalogue(name)
    if usual.strength is None:
        return [usual]
    low, high = row.number("strength_low"), row.number("strength_high")
    if low > 0.0 and high / low > _DECADES:
        steps = np.geomspace(low, high, 1 + math.ceil(math.log10(high / low) / _SAME_OHMS))
    else:
        steps = np.linspace(low, high, _STRENGTHS)
    return [Fault(usual.name, float(value)) for value in steps]


def _solve_for(one: Seen, situations: Sequence[Situation]) -> None:
    """Solve ``situations`` together as far as a reading needs it."""
    if one.mode in DEAD_MODES:
        solve_each(situations, "dead")
        solve_each(situations, "_flowing")
    elif one.mode in PROBE_MODES:
        solve_each(situations, "live")
    elif one.mode in ("clamp", "leakage"):
        solve_each(situations, "_flowing")


def _shown(now: Situation, faults: Sequence[Fault], one: Seen) -> float | None:
    if one.mode == "look":
        return 1.0 if any(catalogue(fault.name)["part"] == "vent" for fault in faults) else 0.0
    if one.mode == "clamp":
        return _METER.clamp(now, one.places, one.places[0]).value
    if one.mode == "leakage":
        return leak_milliamps(now.flows)
    if one.mode == "temperature":
        return _METER.temperature(now, one.places[0]).value
    return _METER.read(now, one.mode, *one.places, full_scale=one.full_scale, nulled=one.nulled).value


def _alike(one: Seen, value: float | None) -> bool:
    if one.value is None or value is None:
        return one.value is None and value is None
    if one.mode in DEAD_MODES:
        logs = [math.log10(max(ohms, 0.0) + _CONTACT_OHMS) for ohms in (one.value, value)]
        return abs(logs[0] - logs[1]) < _SAME_OHMS
    slack = {"look": 0.5, "temperature": _SAME_KELVIN, "clamp": 0.5 + _SAME_SHARE * one.value,
             "leakage": _SAME_MILLIAMPS + 2.0 * _SAME_SHARE * one.value}  # fmt: skip
    return abs(one.value - value) < slack.get(one.mode, _SAME_VOLTS + _SAME_SHARE * one.value)
