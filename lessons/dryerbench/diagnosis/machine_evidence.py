"""The odds of every fault of a machine of the family after each reading, and what to find out next.

Bayes' rule over the cases of ``machine_cases``; a reading counts once. ``by_rate`` is the reading with the most bits a
minute; ``halving`` the one that divides the odds best, whatever it takes; ``textbook`` the next of the menu's order.
``advice`` follows the one that has the fewest minutes on this arrangement (table ``machine-paths``). None of them is
ever one that a safety officer would stop: no power before the heater was read clear of the cabinet and the cabinet
bonded as its cord wants it, none on what may burn or shock, no live work by whoever is not qualified.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from dryerbench.core.random_stream import Stream
from dryerbench.core.tables import table
from dryerbench.diagnosis.candidates import Numbers
from dryerbench.diagnosis.machine_cases import Book, named, read_all, spread_of
from dryerbench.diagnosis.machine_menu import Reading, Stands, after, minutes
from dryerbench.family.arrangement import CABINET, Arrangement
from dryerbench.family.faults import Fault

SURE = 0.99
"""The odds from which a fault counts as singled out."""
RULES = ("by rate", "halving", "textbook")
"""The rules that an advice can follow."""
_AS_MANY = 0.025  # of all: as many right names, but for one of forty
_HEARD_OTHERWISE = 0.1
_UNFORESEEN = {"look": 0.02, "listen": 0.01}
_LITTLE, _AS_GOOD = 0.01, 1e-3
_SAME = 0.5  # spreads that two predictions may be apart and be the same
_OUTCOMES = 48
_NEGLIGIBLE = 1e-4
_UNLIKELY = 0.05
_CLEAR = math.log10(1e6)
_BONDED = math.log10(1.5)
_SPANS = {"ohms": 8.0, "low-impedance": 250.0, "clamp": 60.0, "airflow": 250.0, "warmth": 300.0}
_NEVER = ("never power it", "only after the scorched", "hand over", "stop")


def never_powered(fault: Fault) -> bool:
    """Return whether a machine with ``fault`` must not be powered to look for it."""
    return any(words in fault.kind.live for words in _NEVER)


@cache
def quickest(name: str) -> str:
    """Return the rule that takes the fewest minutes in the middle on the machine ``name``, of those that name most.

    A machine is known by the name of its file; for one that the table does not have it is the first rule.
    """
    rows = [row for row in table("machine-paths").rows if row["machine"] == name.lower() and row["way"] in RULES]
    if not rows:
        return RULES[0]
    most = max(row.whole("right") for row in rows)
    good = [row for row in rows if row.whole("right") >= most - _AS_MANY * row.whole("of")]
    return min(good, key=lambda row: row.number("median_minutes")).text("way")


@dataclass(frozen=True, slots=True)
class Advice:
    """What to find out next: the reading, the bits expected, the minutes."""

    reading: Reading
    bits: float
    minutes: float


class MachineEvidence:
    """The odds of every fault of one machine, from its book, what is heard and the readings taken so far."""

    def __init__(self, known: Book, *, qualified: bool = True) -> None:
        self.book = known
        self.qualified = qualified
        self.stands = Stands()
        self.spent = 0.0
        self.taken: list[Reading] = []
        self.shown: dict[Reading, float] = {}
        self._told: dict[tuple[str, frozenset[str]], list[tuple[float, Numbers, Numbers]]] = {}
        self.weights: Numbers = np.array([case.prior for case in known.cases])
        groups = np.array(known.groups)
        self._member: Numbers = (groups[None, :] == np.arange(len(known.names))[:, None]).astype(float)
        danger = [any(never_powered(fault) for fault in case.faults) for case in known.cases]
        self._danger: NDArray[np.bool_] = np.array(danger)

    @property
    def made(self) -> Arrangement:
        """The arrangement of the machine."""
        return self.book.made

    def odds(self) -> dict[tuple[str, ...], float]:
        """Return the odds of every group of names that no reading tells apart, the greatest first."""
        shares = self._member @ self.weights
        return {self.book.names[place]: float(shares[place]) for place in np.argsort(-shares, kind="stable")}

    @property
    def leading(self) -> tuple[tuple[str, ...], float]:
        """The likeliest names and their odds."""
        return next(iter(self.odds().items()))

    def hear(self, says: str) -> None:
        """Weigh what the customer says: what is told otherwise keeps a tenth of its odds; a sound machine too."""
        told = [not case.faults or any(fault.kind.says == says for fault in case.faults) for case in self.book.cases]
        self._weigh(np.where(np.array(told), 1.0, _HEARD_OTHERWISE))

    def hear_any(self, names: Collection[str]) -> None:
        """Weigh words that customers have for the faults ``names``: every other keeps a tenth of its odds."""
        told = [not case.faults or any(named((fault,)) in names for fault in case.faults) for case in self.book.cases]
        self._weigh(np.where(np.array(told), 1.0, _HEARD_OTHERWISE))

    def observe(self, one: Reading, value: float) -> None:
        """Count the minutes of a reading of the menu and weigh what it showed."""
        self.spent += minutes(self.made, one, self.stands)
        self.stands = after(self.made, one, self.stands)
        self.weigh(one, value)

    def weigh(self, one: Reading, value: float) -> None:
        """Weigh what a reading showed, on the scale of ``machine_cases``; the same reading again changes nothing.

        Nor does one off a bench that shows what an earlier one at the same places did, where every case would.
        """
        self.shown[one] = value
        if one in self.taken:
            return
        self.taken.append(one)
        values, spreads = self._predicted(one)
        told = self._told.setdefault((one.mode, frozenset(one.places)), [])
        if one.given is not None and any(_says_again(value, values, *earlier) for earlier in told):
            return
        told.append((value, values, spreads))
        self._weigh(_density(one, np.array([value]), values, spreads)[0])

    def _predicted(self, one: Reading) -> tuple[Numbers, Numbers]:
        """Return what a reading shows for every case, and its spread: from the book, or worked out."""
        if one in self.book.readings:
            place = self.book.readings.index(one)
            return self.book.values[place], self.book.spreads[place]
        values = read_all(self.made, self.book.cases, [one])[0]
        return values, spread_of(one, values)

    def _weigh(self, likelihood: Numbers) -> None:
        weights = self.weights * likelihood
        self.weights = weights / weights.sum()

    # --- what may be done -------------------------------------------------------------------------------------

    @property
    def safe_to_power(self) -> bool:
        """Whether heater and bond were read, both as they should be, and nothing that must not be powered is likely."""
        box = set(self.made.box_terminals)
        to_case = [value for one, value in self.shown.items() if CABINET in one.places and box & set(one.places)]
        if not to_case or min(to_case) < _CLEAR:
            return False
        return self._bond_good() and float(self.weights[self._danger].sum()) < _UNLIKELY

    def _bond_good(self) -> bool:
        four = self.made.cord == "four-wire"
        wanted = {frozenset((CABINET, "plug-G" if four else "N"))}
        read = [value for one, value in self.shown.items() if frozenset(one.places) in wanted and one.mode == "ohms"]
        return bool(read) and max(read) < _BONDED

    def free(self) -> list[int]:
        """Return the places of the readings that may be taken now and were not."""
        safe = self.safe_to_power
        return [
            place
            for place, one in enumerate(self.book.readings)
            if one not in self.shown and (safe or not one.powered) and (self.qualified or not one.live)
        ]

    def opens_power(self) -> Reading | None:
        """Return the reading still missing before the machine may be powered, or None."""
        box = set(self.made.box_terminals)
        four = self.made.cord == "four-wire"
        for wanted in (lambda one: CABINET in one.places and box & set(one.places),
                       lambda one: frozenset(one.places) == {CABINET, "plug-G" if four else "N"}):  # fmt: skip
            there = [one for one in self.book.readings if one.mode == "ohms" and wanted(one)]
            if not any(one in self.shown for one in there):
                return min(there, key=lambda one: minutes(self.made, one, self.stands))
        return None

    # --- ways to go on ----------------------------------------------------------------------------------------

    def _bits(self, places: list[int]) -> Numbers:
        """Return the bits that each reading is expected to give between groups (places,)."""
        heavy = np.flatnonzero(self.weights > _NEGLIGIBLE)
        weights = self.weights[heavy] / self.weights[heavy].sum()
        member = self._member[:, heavy]
        member = member[member.any(axis=1)]
        outcomes = np.argsort(-weights, kind="stable")[:_OUTCOMES]
        now = _entropy(member @ weights)
        share = weights[outcomes] / weights[outcomes].sum()
        found = []
        for place in places:
            one, values, spreads = self.book.readings[place], self.book.values[place], self.book.spreads[place]
            joint = _density(one, values[heavy][outcomes], values[heavy], spreads[heavy]) * weights
            after_it = member @ joint.T / joint.sum(axis=1)
            found.append(now - float(_entropy(after_it) @ share))
        return np.array(found)

    def advice(self) -> Advice | None:
        """Return what to find out next by the rule that is the quickest here, or None if nothing tells anything."""
        ways = {"by rate": self.by_rate, "halving": self.halving, "textbook": self.textbook}
        return ways[quickest(self.made.name)]()

    def by_rate(self) -> Advice | None:
        """Return the reading that would tell most a minute, or None if none tells anything."""
        return self._best(lambda bits, cost: bits / cost)

    def halving(self) -> Advice | None:
        """Return the reading that would divide the odds best, whatever it takes."""
        return self._best(lambda bits, _: bits)

    def _best(self, worth: Callable[[Numbers, Numbers], Numbers]) -> Advice | None:
        places = self.free()
        if not places:
            return None
        bits = self._bits(places)
        cost = np.array([minutes(self.made, self.book.readings[place], self.stands) for place in places])
        rates = np.where(bits > _LITTLE, worth(bits, cost), 0.0)
        best = int(np.argmax(rates >= (1.0 - _AS_GOOD) * rates.max()))
        if bits[best] > _LITTLE:
            return Advice(self.book.readings[places[best]], float(bits[best]), float(cost[best]))
        return self._towards_power()

    def _towards_power(self) -> Advice | None:
        """Return what is still to be read before power, if only readings with power would tell more."""
        if self.safe_to_power or float(self.weights[self._danger].sum()) >= _UNLIKELY:
            return None
        missing = self.opens_power()
        return None if missing is None else Advice(missing, 0.0, minutes(self.made, missing, self.stands))

    def textbook(self) -> Advice | None:
        """Return the next reading in the order of a textbook, what is before power first."""
        places = self.free()
        return self._next(places[0]) if places else None

    def at_random(self, stream: Stream) -> Advice | None:
        """Return any reading that may be taken."""
        places = self.free()
        return self._next(stream.choose(tuple(places))) if places else None

    def _next(self, place: int) -> Advice:
        one = self.book.readings[place]
        return Advice(one, 0.0, minutes(self.made, one, self.stands))


def _says_again(value: float, values: Numbers, shown: float, old: Numbers, spreads: Numbers) -> bool:
    """Return whether ``value`` is what was ``shown`` before, and every case shows the same both times."""
    near = int(np.argmin(np.abs(old - shown)))
    return abs(value - shown) <= spreads[near] and bool((np.abs(values - old) < _SAME * spreads).all())


def _density(one: Reading, outcomes: Numbers, values: Numbers, spreads: Numbers) -> Numbers:
    """Return the density of ``outcomes`` under cases that show ``values`` (outcomes, cases)."""
    miss = _UNFORESEEN.get(one.mode, 1e-3)
    z = (outcomes[:, None] - values[None, :]) / spreads[None, :]
    bell = np.exp(-0.5 * np.minimum(z * z, 80.0)) / (spreads[None, :] * math.sqrt(math.tau))
    answer: Numbers = (1.0 - miss) * bell + miss / _SPANS.get(one.mode, 8.0)
    return answer


def _entropy(shares: Numbers) -> Numbers:
    """Return the entropy in bits of shares down the first axis."""
    safe = np.where(shares > 0.0, shares, 1.0)
    answer: Numbers = -(shares * np.log2(safe)).sum(axis=0)
    return answer
