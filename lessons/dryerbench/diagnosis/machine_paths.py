"""Paths to the faults of any machine of the family: by bits a minute, by halving, by a textbook's order, at random.

``python -m dryerbench.diagnosis.machine_paths`` writes the table ``machine-paths``: right names and median minutes of
every way on every machine. Make it anew when a machine, a fault, a minute or a rule changes; it takes minutes.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from statistics import median

from dryerbench.core.random_stream import Stream
from dryerbench.core.tables import datasets_folder
from dryerbench.diagnosis.machine_cases import Book, Case, book, named, read_all
from dryerbench.diagnosis.machine_evidence import RULES, SURE, Advice, MachineEvidence
from dryerbench.diagnosis.machine_menu import Reading
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.faults import Fault, faults_of
from dryerbench.family.machine import Machine, drawn_machine
from dryerbench.family.shelf import arrangement, machine_names

WAYS = (*RULES, "random")
FAULTS = 40
"""How many unseen faults of each machine the table walks to."""
FILE = "machine_paths.csv"
_LONGEST = 60
_STRENGTH_SHARES = (25, 75)


@dataclass(frozen=True)
class Step:
    """One step of a path: the reading, what it showed (on its scale), the minutes, then the likeliest names."""

    reading: Reading
    shown: float
    minutes: float
    names: tuple[str, ...]
    odds: float


@dataclass(frozen=True)
class Path:
    """A path to one fault: its steps, the minutes, the names it ends at with their odds, whether it is right."""

    steps: tuple[Step, ...]
    minutes: float
    names: tuple[str, ...]
    odds: float
    right: bool

    @property
    def readings(self) -> tuple[Reading, ...]:
        """What was read."""
        return tuple(step.reading for step in self.steps)


def _go_on(evidence: MachineEvidence, way: str, stream: Stream) -> Advice | None:
    if way == "random":
        return evidence.at_random(stream)
    rules = {"advised": evidence.advice, "by rate": evidence.by_rate}
    return rules.get(way, evidence.halving if way == "halving" else evidence.textbook)()


def walk(
    known: Book,
    machine: Machine,
    faults: Sequence[Fault],
    way: str,
    *,
    qualified: bool = True,
    hear: Callable[[MachineEvidence], None] | None = None,
) -> Path:
    """Return the path that ``way`` takes on ``machine`` with ``faults``, the customer heard first.

    ``hear`` weighs what is heard; without it, it is what the last of ``faults`` is heard as. It ends when one name is
    sure, or nothing tells more.
    """
    evidence = MachineEvidence(known, qualified=qualified)
    if hear is None:
        evidence.hear(faults[-1].kind.says if faults else "")
    else:
        hear(evidence)
    case = Case(tuple(faults), machine, 1.0)
    stream = Stream(f"leg-to-leg/random-path/1/{known.made.name}/{named(faults)}")
    steps: list[Step] = []
    while evidence.leading[1] < SURE and len(steps) < _LONGEST:
        advice = _go_on(evidence, way, stream)
        if advice is None:
            break
        shown = float(read_all(known.made, [case], [advice.reading])[0, 0])
        evidence.observe(advice.reading, shown)
        steps.append(Step(advice.reading, shown, advice.minutes, *evidence.leading))
    names, odds = evidence.leading
    return Path(tuple(steps), evidence.spent, names, odds, named(faults) in names)


@lru_cache(maxsize=64)
def unseen(made: Arrangement, count: int) -> tuple[tuple[Machine, tuple[Fault, ...]], ...]:
    """Return ``count`` faults of the arrangement, each in a machine of its own; common ones oftener."""
    stream = Stream(f"leg-to-leg/unseen/1/{made.name}")
    weighted = [fault for fault in faults_of(made) for _ in range(round(fault.kind.job.weight))]
    chosen = [stream.choose(tuple(weighted)) for _ in range(count)]
    return tuple(
        (drawn_machine(made, stream, f"unseen {place}"), (_drawn(fault, stream),)) for place, fault in enumerate(chosen)
    )


def _drawn(fault: Fault, stream: Stream) -> Fault:
    strength = fault.kind.strength
    if strength is None:
        return fault
    share = stream.integer(*_STRENGTH_SHARES) / 100.0
    wide = strength.low > 0 and strength.high / strength.low > 30.0
    value = (
        strength.low * (strength.high / strength.low) ** share
        if wide
        else strength.low + share * (strength.high - strength.low)
    )
    return Fault(fault.name, fault.on, value)


@dataclass(frozen=True)
class Tally:
    """How one way did on one arrangement: right names of so many, and the median minutes."""

    machine: str
    way: str
    right: int
    of: int
    minutes: float


def tally(name: str, count: int, ways: Iterable[str] = WAYS) -> list[Tally]:
    """Return how each way does on ``count`` unseen faults of the machine ``name``."""
    made = arrangement(name)
    known = book(made)
    found = []
    for way in ways:
        paths = [walk(known, machine, faults, way) for machine, faults in unseen(made, count)]
        right = sum(path.right for path in paths)
        found.append(Tally(name, way, right, count, round(median(path.minutes for path in paths), 1)))
    return found


def table_text(names: Sequence[str], count: int = FAULTS) -> str:
    """Return the table of ``names`` as the text of its file."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(("machine", "way", "right", "of", "median_minutes"))
    for name in names:
        writer.writerows((one.machine, one.way, one.right, one.of, f"{one.minutes:g}") for one in tally(name, count))
    return out.getvalue()


if __name__ == "__main__":
    (datasets_folder() / FILE).write_text(table_text(machine_names()), encoding="utf-8")
