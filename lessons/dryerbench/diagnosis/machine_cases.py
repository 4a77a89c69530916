"""What each fault of a machine of the family, or pair of faults, would make every reading of its menu show.

A case is faults with strengths in a machine of its own: coils, windings, marks, supply and the house's other loads are
drawn within what the sheet allows, so that what nobody can know is spread. Cases that no reading tells apart belong
to one name. Readings are weighed on the scales of ``candidates``; what is seen is a number for each set of words.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from dryerbench.bench.probing import leak_milliamps
from dryerbench.bench.senses import place_seen
from dryerbench.circuits.solver import Solution, solve_all
from dryerbench.core.random_stream import Stream
from dryerbench.diagnosis.candidates import LEAKAGE_SPREAD, SOUND, Numbers, scaled
from dryerbench.diagnosis.machine_menu import RUN_MINUTES, Reading, menu
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.fault_readings import loaded
from dryerbench.family.faults import Fault, faults_of, pairs_of
from dryerbench.family.heat import cold_heat, pass_minutes
from dryerbench.family.machine import Machine, drawn_machine
from dryerbench.family.settings import Setting
from dryerbench.family.settling import Settled, settle_all
from dryerbench.family.wiring import node

SOUND_WEIGHT = 3.0
_PAIR_SHARE = 0.15  # of the weight of an effect: how often its cause is there too (invented)
_STRENGTHS = _DRAWS = 3
"""Strengths of a fault, each in the machine of its own number: names are compared on the same machines."""
_APART = 3.0  # standard deviations
_OHMS_SPREAD, _VOLTS_SPREAD, _AMPS_SPREAD = 0.02, (0.5, 0.01), (0.3, 0.02)
_VAGUE_OHMS, _VAGUE = 1e6, 0.15
_CELSIUS_SPREAD, _CFM_SPREAD, _SEEN_SPREAD = 4.0, 8.0, 0.05


@dataclass(frozen=True, slots=True)
class Case:
    """Faults in one machine, and their share of the prior."""

    faults: tuple[Fault, ...]
    machine: Machine
    prior: float

    @property
    def name(self) -> str:
        """What is wrong, without strengths."""
        return named(self.faults)


def named(faults: Sequence[Fault]) -> str:
    """Return the name of what is wrong, without strengths: ``NAME@PART``, several with `` + `` between them."""
    words = sorted(f"{fault.name}@{fault.on}" if fault.on else fault.name for fault in faults)
    return " + ".join(words) or SOUND


def _strengths(fault: Fault) -> list[Fault]:
    strength = fault.kind.strength
    if strength is None:
        return [fault] * 2
    wide = strength.low > 0 and strength.high / strength.low > 30.0
    steps = (np.geomspace if wide else np.linspace)(strength.low, strength.high, 2 * _STRENGTHS + 1)[1::2]
    return [Fault(fault.name, fault.on, float(value)) for value in steps]


@lru_cache(maxsize=16)
def cases(made: Arrangement) -> tuple[Case, ...]:
    """Return every case of a machine of this arrangement; their priors add up to 1."""
    stream = Stream(f"leg-to-leg/evidence/1/{made.name}")
    machines = [drawn_machine(made, stream, f"book {place}") for place in range(_DRAWS)]
    found = [Case((), machine, SOUND_WEIGHT / _DRAWS) for machine in machines]
    for fault in faults_of(made):
        weight = fault.kind.job.weight
        there = _strengths(fault)
        found += [Case((one,), own, weight / len(there)) for one, own in zip(there, machines, strict=False)]
    for pair in pairs_of(made):
        weight = _PAIR_SHARE * pair[-1].kind.job.weight / _effects(made)[pair[-1].name]
        found.append(Case(pair, machines[0], weight))
    whole = sum(case.prior for case in found)
    return tuple(replace(case, prior=case.prior / whole) for case in found)


@lru_cache(maxsize=16)
def _effects(made: Arrangement) -> Mapping[str, int]:
    counts: dict[str, int] = defaultdict(int)
    for pair in pairs_of(made):
        counts[pair[-1].name] += 1
    return counts


def read_all(made: Arrangement, there: Sequence[Case], wanted: Sequence[Reading]) -> Numbers:
    """Return what each of ``wanted`` shows for each case, on the scale it is weighed on (readings, cases).

    The cases of one machine are settled and solved together, a state at a time.
    """
    answer = np.zeros((len(wanted), len(there)))
    by_state: dict[Setting, list[int]] = defaultdict(list)
    for row, one in enumerate(wanted):
        by_state[one.setting].append(row)
    by_machine: dict[Machine, list[int]] = defaultdict(list)
    for column, case in enumerate(there):
        by_machine[case.machine].append(column)
    for machine, columns in by_machine.items():
        group = [there[column] for column in columns]
        for rows in by_state.values():
            values = _read_state(made, machine, group, [wanted[row] for row in rows])
            answer[np.ix_(rows, columns)] = values
    return answer


def _read_state(made: Arrangement, machine: Machine, group: Sequence[Case], wanted: Sequence[Reading]) -> Numbers:
    """Return what readings in one state show on one machine (readings, cases)."""
    setting = wanted[0].setting
    modes = {one.mode for one in wanted}
    needs = bool(modes & {"ohms", "low-impedance", "clamp", "leakage", "listen"})
    settled = settle_all(machine, [(case.faults, setting) for case in group], pairs=True) if needs else []
    dead = solve_all([one.circuit for one in settled], 0.0) if "ohms" in modes else [None] * len(group)
    live = _live(settled) if modes & {"low-impedance", "clamp", "leakage"} else [None] * len(group)
    rows = []
    for one in wanted:
        if one.mode == "look":
            rows.append([_seen(made, case.faults, one.places[0]) for case in group])
        elif one.mode == "airflow":
            rows.append([_air(machine, case.faults) for case in group])
        elif one.mode == "warmth":
            rows.append([_warmth(case, one) for case in group])
        elif one.mode == "listen":
            rows.append([_heard(item) for item in settled])
        else:
            rows.append([_shown(one, *both) for both in zip(live, dead, strict=True)])
    return np.array(rows, dtype=float)


def _live(settled: Sequence[Settled]) -> list[Solution]:
    missing = [one for one in settled if one.solved is None]
    found = iter(solve_all([one.circuit for one in missing]))
    return [next(found) if one.solved is None else one.solved for one in settled]


def _shown(one: Reading, live: Solution | None, dead: Solution | None) -> float:
    if one.mode == "clamp":
        assert live is not None
        return abs(live.amps(one.places[0]))
    if one.mode == "leakage":
        assert live is not None
        return scaled("leakage", leak_milliamps(live))
    a, b = (node(point) for point in one.places)
    if one.mode == "low-impedance":
        assert live is not None
        return loaded(live, a, b)
    assert dead is not None
    return scaled("ohms", max(0.0, dead[a, b].ohms.real))


def _heard(settled: Settled) -> float:
    """Return 0 for a motor at rest, 1 for one that turns, 2 for a breaker that trips, 3 for one that stops."""
    if "the breaker trips" in settled.happened:
        return 2.0
    if "the motor stops when start is let go" in settled.happened:
        return 3.0
    return float(settled.setting.running)


def _seen(made: Arrangement, faults: Sequence[Fault], place: str) -> float:
    """Return a number for what is seen at ``place``: 0 for nothing."""
    return seen_as(made, place, [fault.kind.seen for fault in faults if place_seen(made, fault) == place])


def seen_as(made: Arrangement, place: str, words: Sequence[str]) -> float:
    """Return the number that stands for ``words`` seen at ``place``; words that no fault there shows count nothing."""
    known = _words_of(made, place)
    return float(sum(1 << known.index(one) for one in set(words) if one in known and one != "nothing"))


@lru_cache(maxsize=256)
def _words_of(made: Arrangement, place: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(fault.kind.seen for fault in faults_of(made) if place_seen(made, fault) == place))


def _air(machine: Machine, faults: Sequence[Fault]) -> float:
    return machine.arrangement.air.cfm * math.prod(1.0 - fault.air_lost for fault in faults)


@lru_cache(maxsize=8192)
def _after_running(machine: Machine, faults: tuple[Fault, ...], one: Reading) -> float:
    after = pass_minutes(machine, faults, one.setting, cold_heat(machine, faults), RUN_MINUTES)
    return after.setting.exhaust_celsius


def _warmth(case: Case, one: Reading) -> float:
    return _after_running(case.machine, case.faults, one)


def spread_of(one: Reading, values: Numbers) -> Numbers:
    """Return one standard deviation of what a meter, or an eye, shows for readings on their scale."""
    if one.mode == "ohms":
        return np.where(values < math.log10(_VAGUE_OHMS), _OHMS_SPREAD, _VAGUE)
    if one.mode == "low-impedance":
        return _VOLTS_SPREAD[0] + _VOLTS_SPREAD[1] * values
    if one.mode == "clamp":
        return _AMPS_SPREAD[0] + _AMPS_SPREAD[1] * values
    fixed = {"leakage": LEAKAGE_SPREAD, "airflow": _CFM_SPREAD, "warmth": _CELSIUS_SPREAD}.get(one.mode, _SEEN_SPREAD)
    return np.full_like(values, fixed)


@dataclass(frozen=True, eq=False)
class Book:
    """What is known of an arrangement before a machine of it is seen: cases, readings, what each shows for each."""

    made: Arrangement
    cases: tuple[Case, ...]
    readings: tuple[Reading, ...]
    values: Numbers
    spreads: Numbers
    groups: tuple[int, ...]
    """To which name each case belongs."""
    names: tuple[tuple[str, ...], ...]
    """The names that no reading tells apart, by group."""

    def group_of(self, name: str) -> int | None:
        """Return the group to which ``name`` belongs; None if there is no such case."""
        return next((place for place, names in enumerate(self.names) if name in names), None)


@lru_cache(maxsize=16)
def book(made: Arrangement) -> Book:
    """Return what is known of an arrangement; it takes seconds, once."""
    there, wanted = cases(made), menu(made)
    values = read_all(made, there, wanted)
    spreads = np.array([spread_of(one, row) for one, row in zip(wanted, values, strict=True)])
    groups, names = _grouped([case.name for case in there], values, spreads)
    return Book(made, there, wanted, values, spreads, groups, names)


def _grouped(
    names: Sequence[str], values: Numbers, spreads: Numbers
) -> tuple[tuple[int, ...], tuple[tuple[str, ...], ...]]:
    """Return the group of each case, and the names of each group: two names are one if each shows what the other can.

    Every case of the one must look like some case of the other in every reading, and the other way round.
    """
    unique = list(dict.fromkeys(names))
    members = {name: [place for place, one in enumerate(names) if one == name] for name in unique}
    gap = np.zeros((len(names), len(names)))
    for row, spread in zip(values, spreads, strict=True):
        np.maximum(gap, np.abs(row[:, None] - row[None, :]) / np.maximum(spread[:, None], spread[None, :]), out=gap)
    like = gap < _APART
    groups: list[list[str]] = []
    for name in unique:
        here = members[name]
        for group in groups:
            there = members[group[0]]
            block = like[np.ix_(here, there)]
            if block.any(axis=1).all() and block.any(axis=0).all():
                group.append(name)
                break
        else:
            groups.append([name])
    place = {name: number for number, group in enumerate(groups) for name in group}
    return tuple(place[name] for name in names), tuple(map(tuple, groups))
