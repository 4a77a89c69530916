"""The candidates for a fault, in bins of strength, and what each of them would make the meter read.

A fault with a strength is cut into bins; the readings at the two ends of a bin span what the bin predicts. Ohms are
weighed on a scale of log10(Ω + 0.5) (Ω + 3000 for insulation), where a contact, an element and sound insulation are
well apart; volts, amps and degrees as they are. The spread of a prediction holds the meter's accuracy and what one
machine may differ from the next: elements, supply and parts within some per cent (common practice, no published
source).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from dryerbench.bench.faults import Fault, catalogue, fault_names, faulty_circuit, fits
from dryerbench.bench.heat import asked_for
from dryerbench.bench.machine import Machine
from dryerbench.bench.meter import DEAD_MODES, Meter
from dryerbench.bench.probing import leak_milliamps
from dryerbench.bench.situation import breaker_holds, motor_turns, starting
from dryerbench.bench.states import ROOM, State, named_state
from dryerbench.circuits.circuit import Circuit
from dryerbench.circuits.solver import Solution, solve, solve_all
from dryerbench.core.tables import Row, table

SOUND = "sound"
LOOK, VENT = "look", "vent"
BINS = 6
_SOUND_WEIGHT = 3.0
_MOST_OHMS = {"ohms": 4e7, "continuity": 600.0, "insulation": 4e9}
_LEAST_OHMS = {"ohms": 0.5, "continuity": 0.5, "insulation": 3000.0}
_LEAST_MILLIAMPS = 0.1
LEAKAGE_SPREAD = 0.06
"""One standard deviation of a leakage reading on its scale: how damp or where a coil touches differs a little."""
_SWITCHING = ("cycling-off-mark", "blocked-vent")
_SHARED_OUT = "open-service-neutral"
_HOUSE_WATTS, _HOUSE_SHARES = (400.0, 3000.0), (0.02, 0.98)
"""What the house may draw, and leg 1's share of it: nobody knows; an open service neutral shares the volts by it."""
_DECADES = 30.0  # a range of strengths wider than this is cut in equal ratios
_VAGUE_OHMS = 1e6  # from here on ohms are leakage: they differ widely from one machine to the next
_METER = Meter()
Numbers: TypeAlias = NDArray[np.float64]
House: TypeAlias = tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class Candidate:
    """A fault, or none, with the strengths at the two ends of its bin and its share of the prior.

    ``phase`` is for a fault whose switch opens and closes all the time: as it stands, or the other way round. All that
    is read in one state is read in one phase. None: not told apart. ``houses``: the watts that the house draws from
    each leg, at the two ends; None where they do not matter.
    """

    name: str
    ends: tuple[float | None, float | None]
    prior: float
    phase: int | None = None
    houses: tuple[House, House] = (None, None)

    def faults(self, end: int) -> tuple[Fault, ...]:
        """Return the fault at one end of the bin; nothing for a sound machine."""
        return () if self.name == SOUND else (Fault(self.name, self.ends[end]),)


@dataclass(frozen=True, slots=True)
class Measurement:
    """A reading that could be taken: state, mode, where, its minutes and those of the state's setting-up.

    ``powered`` says whether the machine has power for it, ``behind_cover`` whether the cover must come off.
    """

    state: str
    mode: str
    places: tuple[str, ...]
    minutes: float
    setup: float
    powered: bool
    behind_cover: bool

    @property
    def live(self) -> bool:
        """Whether it is a reading on a live machine or receptacle: a qualified person's work."""
        return self.mode not in DEAD_MODES and self.mode != LOOK

    def __str__(self) -> str:
        return f"{self.mode} at {' and '.join(self.places)}, {self.state}"


def seen_at_vent(name: str) -> bool:
    """Return whether a look into the vent shows the fault ``name``; a good machine shows nothing there."""
    return name != SOUND and catalogue(name)["part"] == VENT


@cache
def look_at_vent() -> Measurement:
    """Return the look into lint screen, duct and vent hood: no reading, and it tells as much as one."""
    act = table("bench-acts").row(act="look_vent")
    return Measurement("unplugged", LOOK, (VENT,), act.number("minutes"), 0.0, powered=False, behind_cover=False)


@cache
def menu() -> tuple[Measurement, ...]:
    """Return the readings of the table ``evidence-readings``."""
    return tuple(_measurement(row) for row in table("evidence-readings").rows)


def _measurement(row: Row) -> Measurement:
    places = tuple(place for place in (row["a"], row["b"]) if isinstance(place, str) and place)
    state = named_state(row.text("state"))
    behind = {point["point"]: point["behind"] for point in table("test-points").rows}
    inside = any(behind.get(place) == "cover" for place in places) or bool(state.pulled)
    return Measurement(
        row.text("state"),
        row.text("mode"),
        places,
        row.number("minutes"),
        setup=table("bench-states").row(state=row["state"]).number("setup_minutes"),
        powered=state.plugged and state.breaker_on,
        behind_cover=inside or row["mode"] == "clamp" or "limit" in places,
    )


@cache
def candidates(cord: str) -> tuple[Candidate, ...]:
    """Return all candidates for a machine with ``cord``; their priors add up to 1."""
    found = [Candidate(SOUND, (None, None), _SOUND_WEIGHT)]
    for name in fault_names():
        row = catalogue(name)
        if not fits(Fault(name), Machine(cord=cord)):
            continue
        if name == _SHARED_OUT:
            pairs = _houses()
            share = row.number("weight") / len(pairs)
            found += [Candidate(name, (None, None), share, houses=pair) for pair in pairs]
        elif row["strength_usual"] is None:
            found.append(Candidate(name, (None, None), row.number("weight")))
        else:
            found += _of_strength(name, row)
    whole = sum(candidate.prior for candidate in found)
    return tuple(replace(candidate, prior=candidate.prior / whole) for candidate in found)


def _of_strength(name: str, row: Row) -> list[Candidate]:
    bins = _bins(name, row.number("strength_low"), row.number("strength_high"))
    phases = (0, 1) if name in _SWITCHING else (None,)
    share = row.number("weight") / (len(bins) * len(phases))
    return [Candidate(name, ends, share, phase) for ends in bins for phase in phases]


def _houses() -> list[tuple[House, House]]:
    """Return the ends of the bins of what the house draws."""
    edges = np.linspace(*_HOUSE_SHARES, BINS + 1).tolist()
    return [
        ((watts * low, watts * (1.0 - low)), (watts * high, watts * (1.0 - high)))
        for watts in _HOUSE_WATTS
        for low, high in pairwise(edges)
    ]


def _bins(name: str, low: float, high: float) -> list[tuple[float, float]]:
    """Return the ends of the bins: equal ratios where the range spans decades, else equal steps.

    A strength that does nothing but move the mark of a switch is taken at points: every reading then stands on one
    side of the mark or the other, and all readings of one machine on the same.
    """
    if name in _SWITCHING:
        return [(float(point), float(point)) for point in np.linspace(low, high, 2 * BINS + 1)]
    wide = low > 0 and high / low > _DECADES
    edges = np.geomspace(low, high, BINS + 1) if wide else np.linspace(low, high, BINS + 1)
    return list(pairwise(float(edge) for edge in edges))


@dataclass(frozen=True)
class Solved:
    """One machine with one candidate fault in one state, settled and solved live and dead."""

    warmth: State
    live: Solution
    dead: Solution | None
    swung: Solution | None = None
    """Live with the other phase of a switch that opens and closes all the time."""

    def phases(self, phase: int | None) -> tuple[Solved, ...]:
        """Return the case in one ``phase``, or in every phase that it has."""
        both = (self,) if self.swung is None else (self, replace(self, live=self.swung))
        return both if phase is None else (both[phase % len(both)],)


def solve_settled(machine: Machine, state: State, cases: Sequence[tuple[Fault, ...]]) -> list[Solved]:
    """Return every case settled in ``state`` (as ``situation.settle`` does) and solved, in a few batches."""

    def circuits(states: Sequence[State]) -> list[Circuit]:
        return [faulty_circuit(machine, now, case) for now, case in zip(states, cases, strict=True)]

    states = [state] * len(cases)
    if state.ran:
        both = [asked_for(machine, case, state) for case in cases]
        live = solve_all([now.circuit for now, _ in both])
        return [
            Solved(now.state, solution, None, None if other is now else other.live)
            for (now, other), solution in zip(both, live, strict=True)
        ]
    if not (state.plugged and state.breaker_on):
        live, dead = solve_all(circuits(states)), solve_all(circuits(states), 0.0)
        return [Solved(state, *pair) for pair in zip(live, dead, strict=True)]
    if state.running:
        start = starting(state)
        states = [
            state if motor_turns(solution) else replace(state, running=False)
            for solution in solve_all(circuits([start] * len(cases)))
        ]
    live = solve_all(circuits(states))
    off = replace(state, running=False, breaker_on=False)
    for place, solution in enumerate(live):
        if not breaker_holds(machine, solution):
            states[place] = off
            live[place] = solve(faulty_circuit(machine, off, cases[place]))
    return [Solved(now, solution, None) for now, solution in zip(states, live, strict=True)]


def scaled(mode: str, value: float) -> float:
    """Return a reading (Ω, V, A, mA of leakage or °C; inf for OL) on the scale on which readings are weighed."""
    if mode in DEAD_MODES:
        return math.log10(min(max(value, 0.0), _MOST_OHMS[mode]) + _LEAST_OHMS[mode])
    if mode == "leakage":
        return math.log10(max(value, 0.0) + _LEAST_MILLIAMPS)
    return value


def predicted(case: Solved, mode: str, places: tuple[str, ...], lead_ohms: float) -> tuple[float, float]:
    """Return what the meter would read on its scale, and the spread (one standard deviation) of that.

    Raises
    ------
    CircuitError
        For a point that the machine does not have.
    """
    if mode == "temperature":
        spots = {"room": ROOM, "exhaust": case.warmth.exhaust_celsius, "limit": case.warmth.limit_celsius}
        return spots[places[0]], 4.0 if case.swung is None else 9.0
    if mode in DEAD_MODES:
        return _ohms(case, mode, places, lead_ohms)
    if mode == "leakage":
        return scaled(mode, leak_milliamps(case.live)), LEAKAGE_SPREAD
    if mode == "clamp":
        amps = abs(case.live.amps(places[0]))
        return amps, 0.15 + 0.03 * amps
    pair = case.live[places[0], places[1]]
    volts = _METER.loaded_volts(pair, mode)
    phantom = _METER.loaded_volts(pair, "low-impedance") < 0.5 * volts
    return volts, (5.0 + 0.3 * volts) if phantom else 0.3 + 0.02 * volts


def _ohms(case: Solved, mode: str, places: tuple[str, ...], lead_ohms: float) -> tuple[float, float]:
    if case.dead is None:
        return 0.0, 1.0
    ohms = max(0.0, case.dead[places[0], places[1]].ohms.real) + (lead_ohms if mode != "insulation" else 0.0)
    share = 0.018 if ohms < _VAGUE_OHMS else 0.15
    return scaled(mode, ohms), math.hypot(share, 0.24 * _LEAST_OHMS[mode] / (ohms + _LEAST_OHMS[mode]))
