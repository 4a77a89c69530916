"""The table of hazards on every other machine of the family: its own points, wires, parts and faults in each case."""

from __future__ import annotations

import pytest

from dryerbench.bench.access import pullable
from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import Machine, on_the_bench
from dryerbench.core.random_stream import Stream
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.faults import faults_of
from dryerbench.family.machine import drawn_machine
from dryerbench.family.readings import legs_at
from dryerbench.family.shelf import arrangement, machine_names

from .hazard_cases import CASES, OPEN, Case, done

OTHERS = [name for name in machine_names() if name != "schoolroom"]
LEFT_OUT = {
    "ohms N to ground at a live receptacle, bare-handed": ("three-wire",),
    "strap read on a four-wire cord, then powered": ("three-wire",),
    "missing bond read, then powered": ("three-wire",),
    "left in use with a missing bond read": ("three-wire",),
    "20 kΩ leak without the bond, powered again": ("three-wire",),
    "20 kΩ leak with the bond on, powered again": ("three-wire",),
    "case at 120 V worked on": ("three-wire", "nothing at the heater at rest"),
    "insulation test with the board still wired": ("dial",),
}
"""Cases that another cord or control does not have, with the one that has none of it."""


def own_words(made: Arrangement, machine: Machine) -> dict[str, str]:
    """Return the words of a machine in the place of the lessons' own, the longest first."""
    first, shared = made.coils[0], made.coils[0].ends[1]
    ends = [one for coil in made.coils for one in coil.ends]
    wires = {end: next(wire for wire in pullable(machine) if end in wire) for end in ends}
    spot = first.name.removeprefix("coil ")
    bond = "plug-G" if made.cord == "four-wire" else "N"
    return {
        "element-1-grounded=0.33": f"coil-touches@{spot}=0.45",
        "element-1-grounded": f"coil-touches@{spot}",
        "leakage-to-case": f"moisture-leak@{spot}",
        "missing-bond": "ground-off",
        "part=element 1": f"part={first.name}",
        "wire=wire T0": f"wire={wires[shared]}",
        "wire=wire T1": f"wire={wires[first.ends[0]]}",
        "wire=wire T2": f"wire={wires[first.ends[0]]}",
        "wire=wire T3": f"wire={wires[first.ends[0]]}",
        "T1 T0": f"{first.ends[0]} {shared}",
        "T0 case": f"{shared} case",
        "S1 S2": "L1 N",
        "ohms plug-G case": f"ohms {bond} case",
    }


def freed(made: Arrangement, machine: Machine) -> tuple[str, ...]:
    """Return the insulation test of a heater with all its wires off, its charge let out."""
    off = [wire for wire in pullable(machine) if "Box." in wire]
    insulation = f"insulation {made.box_terminals[0]} case"
    return (*OPEN, *(f"pull_wire wire={wire}" for wire in off), insulation, "discharge", f"put_back_wire wire={off[0]}")


def on_machine(case: Case, made: Arrangement, machine: Machine) -> Case:
    """Return ``case`` in the words of ``machine``."""
    words = own_words(made, machine)

    def own(text: str) -> str:
        for ours, theirs in words.items():
            text = text.replace(ours, theirs)
        return text.replace("ask_heat", f"ask_heat heat={made.heats[0]}") if text == "ask_heat" else text

    acts = freed(made, machine) if "freed heater" in case.title else tuple(map(own, case.acts))
    faults = tuple(map(own, case.faults))
    if "on a short" in case.title:
        lead = next(fault.on for fault in faults_of(made) if fault.name == "lead-chafed")
        acts = ("ask_heat heat=" + made.heats[0], *("press_start", "close_breaker") * 3)
        faults = (f"lead-chafed@{lead}",)
    return Case(case.title, acts, case.found, faults, case.not_found)


def cases_on(name: str) -> list[Case]:
    made = arrangement(name)
    machine = on_the_bench(drawn_machine(made, Stream(f"test/hazard/{name}"), "hazard"))
    there = {fault.name for fault in faults_of(made)}
    kind = {made.cord, "board" if made.board else "dial"}
    if legs_at(made, "heater", f"stop {made.heats[0]}") == "nothing":
        kind.add("nothing at the heater at rest")
    own = [on_machine(case, made, machine) for case in CASES if not kind & set(LEFT_OUT.get(case.title, ()))]
    return [case for case in own if {fault.partition("@")[0].partition("=")[0] for fault in case.faults} <= there]


@pytest.mark.parametrize("name", OTHERS)
def test_the_table_on_another_machine(name: str) -> None:
    made = arrangement(name)
    machine = on_the_bench(drawn_machine(made, Stream(f"test/hazard/{name}"), "hazard"))
    there = cases_on(name)
    wrong = []
    for case in there:
        names = {one.name for one in done(case.acts, Bench(machine, case.faults)).findings}
        if not case.found <= names or case.not_found & names or (case.safe and names):
            wrong.append((case.title, sorted(case.found - names), sorted(names - case.found)))
    assert not wrong, (name, wrong)
    assert len(there) >= len(CASES) - len(LEFT_OUT)
