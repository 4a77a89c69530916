"""What the readings single out: the odds of every fault after each reading, and the reading that would tell most.

Bayes' rule over the candidates of ``candidates``, with the catalogue's weights as the prior. A reading's likelihood
is the share of a bin's predictions that would show it, blurred by the spread; a little is kept for the unforeseen.
The advice is the largest expected fall of entropy between faults, in bits, for each minute. A look into the vent is
weighed as a reading is.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from dryerbench.bench.case_readings import CaseReadings
from dryerbench.bench.faults import Fault, catalogue, fault_names
from dryerbench.bench.machine import Machine
from dryerbench.bench.meter import DEAD_MODES, Meter
from dryerbench.bench.reading import Reading
from dryerbench.bench.states import State, named_state
from dryerbench.core.errors import LegToLegError
from dryerbench.core.tables import table
from dryerbench.diagnosis.candidates import (
    LOOK,
    SOUND,
    Candidate,
    House,
    Measurement,
    Numbers,
    Solved,
    candidates,
    look_at_vent,
    menu,
    predicted,
    scaled,
    seen_at_vent,
    solve_settled,
)
from dryerbench.diagnosis.likelihood import AS_GOOD, Floats, density, entropy, expected_entropy, likeliest, span_of

Rows: TypeAlias = tuple[Numbers, Numbers, Numbers] | Numbers
SURE = 0.995
"""The odds from which a fault counts as singled out."""
_LOOK_SPREAD = 0.2
_UNLIKELY = 0.05
_OTHER = 0.1
_TO_CASE = ("element-1-grounded", "element-2-grounded", "element-3-grounded", "leakage-to-case")
_NEGLIGIBLE = 3e-4
_LITTLE = 0.01
_SAME = 0.5  # spreads that two predictions may be apart and be the same
_COVER_MINUTES, _DIAL_MINUTES = 9.0, 0.3  # prove dead, take the cover off; set the heat
_METER = Meter()


class EvidenceError(LegToLegError, ValueError):
    """A reading that cannot be weighed."""


@dataclass(frozen=True, slots=True)
class Advice:
    """The next reading that would tell most a minute: bits expected, minutes, and whether it is live work."""

    act: Measurement
    bits: float
    minutes: float

    def __str__(self) -> str:
        live = "; live: a qualified person's work, with its precautions" if self.act.live else ""
        return f"{self.act} ({self.minutes:.0f} min{live})"


@lru_cache(maxsize=64)
def cases(machine: Machine, state: State) -> tuple[tuple[Solved, Solved], ...]:
    """Return every candidate's two ends, settled in ``state`` and solved."""
    all_candidates = candidates(machine.cord)
    wanted = dict.fromkeys((one.houses[end], one.faults(end)) for one in all_candidates for end in (0, 1))
    solved: dict[tuple[House, tuple[Fault, ...]], Solved] = {}
    for house in dict.fromkeys(house for house, _ in wanted):
        here = [faults for at, faults in wanted if at == house]
        there = machine if house is None else replace(machine, house_watts=house)
        solved.update(
            {(house, faults): one for faults, one in zip(here, solve_settled(there, state, here), strict=True)}
        )
    low, high = ([solved[one.houses[end], one.faults(end)] for one in all_candidates] for end in (0, 1))
    return tuple(zip(low, high, strict=True))


@lru_cache(maxsize=512)
def _predictions(
    machine: Machine, state: State, mode: str, places: tuple[str, ...], lead_ohms: float
) -> tuple[Numbers, Numbers, Numbers]:
    """Return low ends, high ends and spreads, each (candidates,); a look sees 1 for shut and 0 for clear."""
    if mode == LOOK:
        seen = np.array([float(seen_at_vent(one.name)) for one in candidates(machine.cord)])
        return seen, seen, np.full(len(seen), _LOOK_SPREAD)
    all_ends = [
        [predicted(phase, mode, places, lead_ohms) for case in pair for phase in case.phases(one.phase)]
        for one, pair in zip(candidates(machine.cord), cases(machine, state), strict=True)
    ]
    low, high, spread = (
        np.array([pick(end[part] for end in ends) for ends in all_ends])
        for pick, part in ((min, 0), (max, 0), (max, 1))
    )
    return low, high, spread


@lru_cache(maxsize=8)
def menu_predictions(machine: Machine) -> tuple[tuple[Measurement, ...], Numbers]:
    """Return the acts that this machine allows and their predictions (acts, 3, candidates)."""
    lead = _METER.lead_ohms
    acts = [act for act in menu() if machine.cord == "four-wire" or "plug-G" not in act.places]
    acts.append(look_at_vent())
    rows = [_predictions(machine, named_state(act.state), act.mode, act.places, lead) for act in acts]
    return tuple(acts), np.array(rows)


@lru_cache(maxsize=8)
def _menu_densities(machine: Machine) -> tuple[tuple[Measurement, ...], Floats]:
    """Return the acts and the density of every bin's middle under every candidate (acts, candidates, outcomes)."""
    acts, rows = menu_predictions(machine)
    tables = []
    for act, (low, high, spread) in zip(acts, rows, strict=True):
        outcome = 0.5 * (low + high)
        tables.append(density(outcome[None, :], low[:, None], high[:, None], spread[:, None], span_of(act.mode)))
    return acts, np.array(tables, dtype=np.float32)


@lru_cache(maxsize=8)
def _alike(machine: Machine) -> dict[Measurement, tuple[Measurement, ...]]:
    """Return for each act of the menu the acts that would show the same, itself among them."""
    acts, rows = menu_predictions(machine)
    every = np.ones(rows.shape[2], dtype=bool)
    return {
        act: tuple(
            other
            for other, there in zip(acts, rows, strict=True)
            if other.mode == act.mode and set(other.places) == set(act.places) and _foretell_the_same(row, there, every)
        )
        for act, row in zip(acts, rows, strict=True)
    }


class Evidence:
    """The odds of every fault of one machine, from its book values and the readings taken so far."""

    def __init__(self, machine: Machine | None = None, *, qualified: bool = True) -> None:
        self.machine = machine or Machine()
        self.qualified = qualified
        self.candidates: tuple[Candidate, ...] = candidates(self.machine.cord)
        self.weights: Numbers = np.array([one.prior for one in self.candidates])
        self.taken: set[Measurement] = set()
        self.shown: dict[tuple[str, frozenset[str]], list[tuple[Rows, float]]] = {}
        self.state = ""
        self.cover_off = False
        self.case = CaseReadings()

    def odds(self) -> dict[str, float]:
        """Return the odds of every fault (and of a sound machine), the greatest first; they add up to 1."""
        summed: dict[str, float] = {}
        for one, weight in zip(self.candidates, self.weights, strict=True):
            summed[one.name] = summed.get(one.name, 0.0) + float(weight)
        return dict(sorted(summed.items(), key=lambda item: -item[1]))

    def singled_out(self, share: float = SURE) -> list[str]:
        """Return the fewest faults that together hold ``share`` of the odds: one name if the readings decide."""
        names: list[str] = []
        held = 0.0
        for name, odds in self.odds().items():
            names.append(name)
            held += odds
            if held >= share:
                break
        return names

    def hear(self, complaint: str) -> None:
        """Weigh what the customer says: a fault of another complaint keeps a tenth of its odds.

        Raises
        ------
        EvidenceError
            For a complaint that no fault of the catalogue has.
        """
        words = {SOUND: "", **{name: catalogue(name).text("complaint") for name in fault_names()}}
        if complaint not in words.values() or not complaint:
            raise EvidenceError(f"No fault of the catalogue is heard as '{complaint}'.")
        self._weigh(np.array([1.0 if words[one.name] == complaint else _OTHER for one in self.candidates]))

    def hear_any(self, names: tuple[str, ...]) -> None:
        """Weigh what the customer says: a fault that is not among ``names`` keeps a tenth of its odds."""
        self._weigh(np.array([1.0 if one.name in names else _OTHER for one in self.candidates]))

    def observe(
        self, state: State, mode: str, places: tuple[str, ...], reading: Reading, *, nulled: bool = False
    ) -> None:
        """Weigh one reading taken in ``state`` (as it was asked for: a motor that stopped is evidence too).

        A reading that says again what it has said changes nothing, whichever probe is on which point.

        Raises
        ------
        EvidenceError
            For a reading that shows nothing.
        CircuitError
            For a point that the machine does not have.
        """
        lead = 0.0 if nulled else _METER.lead_ohms
        self._note_case(reading, state)
        row = _predictions(self.machine, state, mode, places, lead)
        self._weigh_reading(reading, mode, places, row, later=state.ran > 0.0)

    def _weigh_reading(
        self, reading: Reading, mode: str, places: tuple[str, ...], row: Rows, *, later: bool = False
    ) -> None:
        """Weigh a reading; ``later``: time passes between readings, so a switch may be found either way each time."""
        if reading.value is None and reading.shown != "OL":
            raise EvidenceError("The circuit was live, so this reading tells nothing. It does not count.")
        value = scaled(mode, math.inf if reading.value is None else reading.value)
        before = self.shown.setdefault((mode, frozenset(places)), [])
        if any(self._says_again(mode, row, value, *earlier) for earlier in before):
            return
        before.append((row, value))
        low, high, spread = row
        likelihood = density(np.array(value), low, high, spread, span_of(mode))
        if later:
            first = np.flatnonzero([one.phase == 0 for one in self.candidates])
            likelihood[first] = likelihood[first + 1] = 0.5 * (likelihood[first] + likelihood[first + 1])
        self._weigh(likelihood)

    def _says_again(self, mode: str, row: Rows, value: float, old: Rows, shown: float) -> bool:
        """Return whether a reading tells no more than an earlier one at the same places.

        It shows the same, and every candidate would show it the same; with power, one whose switch opens and closes
        all the time is passed over: a reading that catches it the other way round shows something else.
        """
        still = np.array([mode in DEAD_MODES or one.phase is None for one in self.candidates])
        near = int(np.argmin(np.abs(0.5 * (old[0] + old[1]) - shown)))
        return abs(value - shown) <= old[2][near] and _foretell_the_same(row, old, still)

    def observe_act(self, act: Measurement, reading: Reading) -> None:
        """Weigh one reading of the menu, and note that it was taken and where the machine now stands.

        Raises
        ------
        EvidenceError
            For a reading that shows nothing.
        """
        acts, rows = menu_predictions(self.machine)
        self._weigh_reading(reading, act.mode, act.places, rows[acts.index(act)])
        self._note_case(reading, named_state(act.state))
        self.taken.add(act)
        self.state = act.state
        self.cover_off = self.cover_off or act.behind_cover

    def _note_case(self, reading: Reading, state: State) -> None:
        self.case.read(reading.as_data(), four_wire=self.machine.cord == "four-wire", plugged=state.plugged)

    def _weigh(self, likelihood: Numbers) -> None:
        weights = self.weights * likelihood
        self.weights = weights / weights.sum()

    def advice(self) -> Advice | None:
        """Return the reading of the menu that would tell most a minute, or None if none tells anything."""
        menu_acts, densities = _menu_densities(self.machine)
        safe = self.safe_to_power
        spent = {again for act in self.taken for again in _alike(self.machine).get(act, ())}
        opens = None if safe else self._opens_power()
        free = [
            place
            for place, act in enumerate(menu_acts)
            if act not in spent and (self.qualified or not act.live) and (safe or opens is not None or not act.powered)
        ]
        if not free:
            return None
        bits = self._bits(densities, free)
        first = 0.0 if opens is None else self._cost(opens)
        costs = np.array([self._cost(act) + first * act.powered for act in (menu_acts[place] for place in free)])
        rates = np.where(bits > _LITTLE, bits / costs, 0.0)
        best = int(np.argmax(rates >= (1.0 - AS_GOOD) * rates.max()))
        if bits[best] <= _LITTLE:
            return None
        act = menu_acts[free[best]]
        if opens is not None and act.powered:
            return Advice(opens, float(bits[best]), first)
        return Advice(act, float(bits[best]), self._cost(act))

    def _bits(self, densities: Floats, free: list[int]) -> Numbers:
        """Return the bits that each act ``free`` is expected to give between faults (acts,)."""
        heavy = np.flatnonzero(self.weights > _NEGLIGIBLE)
        weights = (self.weights[heavy] / self.weights[heavy].sum()).astype(np.float32)
        names = [self.candidates[place].name for place in heavy]
        member = np.array([[one == name for one in names] for name in dict.fromkeys(names)], dtype=np.float32)
        seen = likeliest(weights)
        left = expected_entropy(densities[np.ix_(np.array(free), heavy, heavy[seen])], weights, member, seen)
        answer: Numbers = float(entropy(member @ weights)) - left
        return answer

    def _opens_power(self) -> Measurement | None:
        """Return the test of the heater to the case, if it alone is missing before readings with power; else None."""
        if self._path_likely or self.case.path_shown or any(_is_of_the_heater(act) for act in self.taken):
            return None
        there = [act for act in menu_predictions(self.machine)[0] if act.mode == "ohms" and _is_of_the_heater(act)]
        return min(there, key=self._cost)

    @property
    def safe_to_power(self) -> bool:
        """Whether the heater was tested against the case, dead, no reading shows a path, and none is likely."""
        return any(map(_is_of_the_heater, self.taken)) and not self.case.path_shown and not self._path_likely

    @property
    def _path_likely(self) -> bool:
        odds = self.odds()
        return sum(odds.get(name, 0.0) for name in _TO_CASE) >= _UNLIKELY

    def _cost(self, act: Measurement) -> float:
        return act.minutes + self._setup(act) + (_COVER_MINUTES if act.behind_cover and not self.cover_off else 0.0)

    def _setup(self, act: Measurement) -> float:
        """Return the minutes until the machine stands for ``act``: a wire that is off is not pulled once more."""
        if act.state == self.state:
            return 0.0
        if self.state:
            here, there = named_state(self.state), named_state(act.state)
            if not here.plugged and not there.plugged and here.pulled <= there.pulled:
                return max(_DIAL_MINUTES, act.setup - _setup_minutes(self.state))
        return act.setup


def _foretell_the_same(row: Rows, other: Rows, among: NDArray[np.bool_]) -> bool:
    """Return whether the candidates ``among`` would show the same in two readings."""
    apart = np.maximum(np.abs(row[0] - other[0]), np.abs(row[1] - other[1])) / np.minimum(row[2], other[2])
    return bool(apart[among].max() < _SAME)


def _is_of_the_heater(act: Measurement) -> bool:
    return {"case", "T0"} <= set(act.places)


@cache
def _setup_minutes(state: str) -> float:
    return table("bench-states").row(state=state).number("setup_minutes")
