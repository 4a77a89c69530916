"""The search on a call of the family's machines: what to find out next, whether a name is right, the advised way.

Nothing is marked here. A name is right if it is among what is wrong, or if no reading tells it from what is wrong. It
is shown if the readings give it the odds ``ENOUGH``, or if without it the machine would have read otherwise.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import family_of, from_family, read_fault
from dryerbench.bench.worksite import faults_found_on
from dryerbench.core.tables import table
from dryerbench.diagnosis.candidates import SOUND
from dryerbench.diagnosis.hypotheses import Hypotheses
from dryerbench.diagnosis.machine_calls import MachineCall
from dryerbench.diagnosis.machine_cases import book
from dryerbench.diagnosis.machine_evidence import Advice, MachineEvidence, quickest
from dryerbench.diagnosis.machine_paths import Path, walk
from dryerbench.diagnosis.machine_trail import done_on, evidence_on
from dryerbench.diagnosis.service_calls import before_repair
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.fault_file import fault_kind
from dryerbench.family.faults import faults_of

ENOUGH = 0.9
"""The odds from which a name counts as shown by its readings (our own rule)."""
_POSSIBLE = 0.05


@dataclass(frozen=True)
class Named:
    """What is to be said of a name: right, shown by the readings, not the only one; what else the readings leave."""

    right: bool
    shown: bool = False
    more: bool = False
    left: tuple[str, ...] = ()


def searched(call: MachineCall, bench: Bench) -> MachineEvidence:
    """Return the evidence that the trail of ``bench`` has gathered, with what it took counted as taken."""
    evidence = evidence_on(call.machine, bench.trail, call.hear)
    evidence.shown.update(done_on(evidence.book, before_repair(bench.trail)))
    return evidence


def next_reading(call: MachineCall, bench: Bench) -> Advice | None:
    """Return what to find out next, dead readings first; None if nothing tells much more."""
    evidence = searched(call, bench)
    evidence.qualified = False
    advice = evidence.advice()
    if advice is None:
        evidence.qualified = True
        advice = evidence.advice()
    return advice


def offered(made: Arrangement) -> dict[str, tuple[str, ...]]:
    """Return what can be named on this machine: the faults, without strengths, of each title, and a sound machine."""
    found: dict[str, tuple[str, ...]] = {}
    for fault in faults_of(made):
        name = from_family(fault).name
        found[title_on(name)] = (*found.get(title_on(name), ()), name)
    return {**dict(sorted(found.items())), title_on(SOUND): (SOUND,)}


def title_on(name: str) -> str:
    """Return a fault of the family, or several with `` + `` between them, in words without the name of a terminal."""
    if name == SOUND:
        return "nothing wrong"
    return " and ".join(fault_kind(one.partition("@")[0]).title for one in name.split(" + "))


def judge_name(call: MachineCall, bench: Bench, said: Collection[str], before: Collection[str] = ()) -> Named:
    """Return what is to be said to whoever names ``said``: faults of one title; ``before`` were named already."""
    there = faults_found_on(bench)
    actual = [fault.name for fault in there] or [SOUND]
    evidence = searched(call, bench)
    alike = [names for names in evidence.book.names if set(names) & set(actual)]
    hit = [name for name in actual if name in said]
    hit = hit or [name for name in actual if any(name in names and set(names) & set(said) for names in alike)]
    if not hit:
        return Named(False)
    odds = evidence.odds()
    share = sum(odds[names] for names in odds if any(set(one.split(" + ")) & set(hit) for one in names))
    rest = [fault for fault in there if fault.name not in hit]
    shown = share >= ENOUGH or (len(there) > 1 and not _allowed(call, bench, rest))
    others = (names for names, one in odds.items() if one > _POSSIBLE)
    left = [title_on(names[0]) for names in others if not any(set(one.split(" + ")) & set(hit) for one in names)]
    more = bool({title_on(name) for name in actual} - {title_on(name) for name in (*hit, *before)})
    return Named(True, shown, more, tuple(dict.fromkeys(left)))


def _allowed(call: MachineCall, bench: Bench, faults: Collection[object]) -> bool:
    known = [read_fault(str(fault), call.machine) for fault in faults]
    return Hypotheses(call.machine, before_repair(bench.trail)).allow(known)


def advised_way(call: MachineCall) -> Path:
    """Return the path that the advice takes on this call with dead readings alone, or with live ones if it must."""
    machine, known = call.machine.stands, book(call.made)
    assert machine is not None
    faults = family_of(call.machine, [read_fault(fault, call.machine) for fault in call.faults])
    dead = walk(known, machine, faults, "advised", qualified=False, hear=call.hear)
    if dead.steps and dead.right and dead.odds > ENOUGH:
        return dead
    return walk(known, machine, faults, "advised", hear=call.hear)


@dataclass(frozen=True)
class Usual:
    """Minutes in the middle over unseen faults of one arrangement: the advice's rule, and a textbook's order."""

    advised: float
    textbook: float


def usual_minutes(name: str) -> Usual:
    """Return the minutes of the table ``machine-paths`` for the arrangement ``name`` [min]."""
    rows = {row.text("way"): row.number("median_minutes") for row in table("machine-paths").rows
            if row["machine"] == name.lower()}  # fmt: skip
    return Usual(rows[quickest(name)], rows["textbook"])
