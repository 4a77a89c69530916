"""Paths to a fault: the one that the evidence's own advice takes, and what a bench's trail has already shown."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from dryerbench.bench.faults import Fault
from dryerbench.bench.heat import asked_for
from dryerbench.bench.machine import Machine
from dryerbench.bench.meter import DEAD_MODES, Meter
from dryerbench.bench.reading import Reading
from dryerbench.bench.states import State, named_state
from dryerbench.bench.trail import Act
from dryerbench.bench.warm_places import weighs
from dryerbench.diagnosis.candidates import LOOK, VENT, Measurement, seen_at_vent
from dryerbench.diagnosis.evidence import SURE, Evidence

_LONGEST = 30
_SAME = {"ohms": 0.3, "continuity": 0.3, "volts": 1.0, "clamp": 0.2, "temperature": 3.0}
"""What two readings of the same thing may be apart: Ω, V, A, K."""
_METER = Meter()


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a path: the reading taken, what it showed (None: OL), the minutes, and the odds after it."""

    act: Measurement
    shown: str
    value: float | None
    minutes: float
    odds: dict[str, float]


def take(machine: Machine, faults: Iterable[Fault], act: Measurement) -> Reading:
    """Return what the meter shows on the real machine for one reading of the menu, or what a look shows."""
    if act.mode == LOOK:
        return seen_in_vent(shut=any(seen_at_vent(one.name) for one in faults))
    situation, _ = asked_for(machine, tuple(faults), named_state(act.state))
    if act.mode == "clamp":
        return _METER.clamp(situation, act.places, act.places[0])
    if act.mode == "temperature":
        return _METER.temperature(situation, act.places[0], "°F")
    return _METER.read(situation, act.mode, *act.places)


def seen_in_vent(*, shut: bool) -> Reading:
    """Return what a look into the vent shows, as a reading: 1 if lint packs it, 0 if it is clear."""
    return Reading(LOOK, (VENT,), "packed" if shut else "clear", float(shut), "", 0.0, 1.0, 1.0, 1.0)


def _as_before(mode: str, before: float | None, now: float | None) -> bool:
    """Return whether a reading is what it was, but for the last digits that a meter gives and takes."""
    if before is None or now is None:
        return before is now
    return math.isclose(before, now, rel_tol=0.03, abs_tol=_SAME.get(mode, 0.0))


def follow(
    machine: Machine,
    faults: Iterable[Fault],
    book: Machine | None = None,
    *,
    qualified: bool = True,
    heard: tuple[str, ...] = (),
    known: Iterable[Step] = (),
) -> list[Step]:
    """Return the path that the advice itself takes on ``machine``, until one fault is sure or nothing tells more.

    ``book`` holds the values that the maker gives (an apprentice does not know the machine's own); ``heard`` are the
    faults that can lie behind what the customer says. Of the steps ``known`` from before a repair, those that would
    show the same now come first, and cost no minute.
    """
    evidence = Evidence(book or Machine(cord=machine.cord), qualified=qualified)
    if heard:
        evidence.hear_any(heard)
    actual = tuple(faults)
    steps: list[Step] = []
    for before in known:
        reading = take(machine, actual, before.act)
        if _as_before(before.act.mode, before.value, reading.value):
            evidence.observe_act(before.act, reading)
            steps.append(Step(before.act, before.shown, reading.value, 0.0, evidence.odds()))
    most = len(steps) + _LONGEST
    while len(steps) < most and next(iter(evidence.odds().values())) < SURE:
        advice = evidence.advice()
        if advice is None:
            break
        reading = take(machine, actual, advice.act)
        if reading.value is None and reading.shown != "OL":
            evidence.taken.add(advice.act)
            continue
        evidence.observe_act(advice.act, reading)
        steps.append(Step(advice.act, str(reading), reading.value, advice.minutes, evidence.odds()))
    return steps


def from_trail(machine: Machine, trail: Iterable[Act]) -> Evidence:
    """Return the evidence that a bench's trail has gathered; ``machine`` holds the book values."""
    evidence = Evidence(machine)
    for act in trail:
        if act["act"] == "look_vent":
            evidence.observe(State(), LOOK, (VENT,), seen_in_vent(shut=bool(act["facts"]["vent_blocked"])))
            continue
        data = act.get("gauge") if act["act"] == "leakage" else act.get("reading")
        if data is None or (data["value"] is None and data["shown"] != "OL"):
            continue
        asked = State.from_data(act["asked"])
        reading = Reading.from_data(data)
        if data["mode"] in DEAD_MODES and asked.plugged and asked.breaker_on:
            continue
        if data["places"] == ["cord"] or not weighs(data["mode"], reading.places):
            continue
        evidence.observe(asked, data["mode"], reading.places, reading, nulled=act["facts"].get("nulled", False))
    return evidence
