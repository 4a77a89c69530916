"""What any repair on the bench has to reach: parts read before they go, and none that is good.

What was read and proved is told by ``dryerbench.bench.work_done``.
"""

from __future__ import annotations

from functools import cache

from dryerbench.bench.access import part_prices
from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import catalogue, from_family
from dryerbench.bench.machine import Machine
from dryerbench.bench.work_done import point_on, repairs
from dryerbench.bench.worksite import faults_found_on, machine_on
from dryerbench.core.tables import table
from dryerbench.family.fault_readings import shown_by
from dryerbench.family.faults import faults_of
from dryerbench.family.machine import standard

_LOOKS = ("look_vent", "look")


@cache
def readings_of(machine: Machine) -> dict[str, frozenset[frozenset[str]]]:
    """Return the pairs of points between which each part is read: as taught, on another machine as its faults show."""
    found: dict[str, set[frozenset[str]]] = {}
    if machine.stands is None:
        parts = {row["fault"]: row.text("part") for row in table("faults").rows}
        for row in (row for row in table("taught-readings").rows if row["mode"] != "look"):
            found.setdefault(parts[row["fault"]], set()).add(frozenset((row.text("a"), row.text("b"))))
    else:
        made = machine.stands.arrangement
        for fault in faults_of(made):
            part = str(catalogue(from_family(fault).name)["part"])
            pairs = {frozenset(point_on(machine, end) for end in (one.a, one.b))
                     for one in shown_by(standard(made), fault)}  # fmt: skip
            found.setdefault(part, set()).update(pairs)
    return {part: frozenset(pairs) for part, pairs in found.items()}


def _read_before(bench: Bench, place: int, part: str) -> bool:
    acts = bench.trail[:place]
    if part == "vent":
        return any(act["act"] == "look_vent" for act in acts)
    seen = {frozenset(act["reading"]["places"]) for act in acts if act.get("reading")}
    return bool(seen & readings_of(machine_on(bench)).get(part, frozenset()))


def parts_read(bench: Bench) -> bool:
    """Return whether every part that was replaced had been read, or looked at, before."""
    placed = [
        (place, str(act["with"]["part"])) for place, act in enumerate(bench.trail) if act["act"] == "replace_part"
    ]
    return all(_read_before(bench, place, part) for place, part in placed)


def unneeded(bench: Bench) -> list[str]:
    """Return the parts that were replaced though nothing was wrong with them."""
    bad = {catalogue(fault.name)["part"] for fault in faults_found_on(bench)}
    return [part for act in repairs(bench) if (part := str(act["with"]["part"])) not in bad]


def wasted(bench: Bench) -> str:
    """Return how many sound parts were replaced and what they cost, in a sentence; which they were names the fault."""
    parts = unneeded(bench)
    costs = part_prices(machine_on(bench))
    price = sum(costs.get(part, (0.0, 0.0))[1] for part in parts)
    return f"You replaced good parts: {len(parts)}. The customer would pay ${price:g} for them."


def searched(bench: Bench) -> bool:
    """Return whether a part was read or looked at in a way that is taught: without it nothing is shown."""
    taught = {pair for pairs in readings_of(machine_on(bench)).values() for pair in pairs}
    return any(
        act["act"] in _LOOKS or (act.get("reading") and frozenset(act["reading"]["places"]) in taught)
        for act in bench.trail
    )
