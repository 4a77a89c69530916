"""The lessons' dryer is the family's Schoolroom in other words: every reading agrees, sound and with every fault.

Merged points leak less together than apart: 200 kΩ to the case read 0.05 % more.
Wires that the lessons do not tell apart have no ohms here: at the start of the motor they take nearly a volt.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from dryerbench.bench import faults as bench_faults
from dryerbench.bench import schoolroom
from dryerbench.bench.machine import Machine
from dryerbench.bench.states import named_state, state_names
from dryerbench.bench.wiring import points
from dryerbench.circuits.circuit import Circuit
from dryerbench.circuits.solver import solve_all
from dryerbench.family.faults import faults_of, faulty_circuit, target_of
from dryerbench.family.machine import standard
from dryerbench.family.settings import Setting
from dryerbench.family.shelf import arrangement

SAME = ("L1", "L2", "N", *(f"{end}-{slot}" for end in ("plug", "outlet") for slot in "12NG"))
POINTS = {ours: theirs for theirs, ours in schoolroom.POINTS.items() if ours in points()} | {
    name: name for name in SAME
}
WIRES = {ours: theirs for theirs, ours in schoolroom.PARTS.items() if theirs.startswith("wire ")}
FAULTS = [name for name in bench_faults.fault_names() if bench_faults.fits(bench_faults.read_fault(name), Machine())]
MADE = arrangement("schoolroom")
LOW_IMPEDANCE = 3000.0
OVER_RANGE = 4e7


def without_more_wires(circuit: Circuit) -> Circuit:
    """Return the family's circuit with no ohms in the wires, and the overload, that the bench does not have."""
    more = [wire.name for wire in MADE.wires if wire.name not in WIRES.values() or wire.name in schoolroom.SHORT]
    return circuit.replaced(replace(circuit.part(name), value=1e-9) for name in (*more, "overload"))


def circuits(words: str) -> tuple[list[Circuit], list[Circuit]]:
    """Return the circuits of the bench and of the family in every state, with the fault that ``words`` name."""
    own = [bench_faults.read_fault(words)] if words else []
    other = bench_faults.family_of(Machine(), own)
    bench, family = [], []
    for name in state_names():
        bench.append(bench_faults.faulty_circuit(Machine(), named_state(name), own))
        family.append(
            without_more_wires(faulty_circuit(standard(MADE), schoolroom.setting_of(named_state(name)), other))
        )
    return bench, family


def pairs(circuits: list[Circuit], names: list[str], hertz: float) -> list[tuple[np.ndarray, np.ndarray]]:
    """Return volts and ohms behind every pair of ``names``, a circuit each."""
    found = []
    for solution in solve_all(circuits, hertz):
        rows = [solution.index(name) for name in names]
        volts, ohms = solution.all_pairs()
        found.append((volts[np.ix_(rows, rows)], ohms[np.ix_(rows, rows)]))
    return found


@pytest.mark.parametrize("words", ["", *FAULTS])
def test_every_reading_is_the_same(words: str) -> None:
    bench, family = circuits(words)
    assert len(bench) >= 10
    own, theirs = list(POINTS), list(POINTS.values())
    for (volts, behind), (other_volts, other_behind) in zip(
        pairs(bench, own, 60.0), pairs(family, theirs, 60.0), strict=True
    ):
        loaded = [
            np.abs(v * LOW_IMPEDANCE / (LOW_IMPEDANCE + z)) for v, z in ((volts, behind), (other_volts, other_behind))
        ]
        np.testing.assert_allclose(loaded[1], loaded[0], rtol=1e-4, atol=0.05)
    for (_, ohms), (_, other_ohms) in zip(pairs(bench, own, 0.0), pairs(family, theirs, 0.0), strict=True):
        shown = ohms.real < OVER_RANGE
        assert np.array_equal(shown, other_ohms.real < OVER_RANGE)
        np.testing.assert_allclose(other_ohms.real[shown], ohms.real[shown], rtol=6e-4, atol=0.006)


@pytest.mark.parametrize("cord", ["four-wire", "three-wire"])
def test_every_fault_is_one_that_the_family_has(cord: str) -> None:
    made = schoolroom.schoolroom(cord)
    own = [bench_faults.read_fault(name) for name in bench_faults.fault_names()]
    fit = [fault for fault in own if bench_faults.fits(fault, Machine(cord=cord))]
    there = [bench_faults.of_family(fault, cord) for fault in fit]
    assert len(fit) >= 38
    assert {(fault.name, fault.on) for fault in there} <= {(fault.name, fault.on) for fault in faults_of(made)}
    assert all(target_of(made, fault) for fault in there)


def test_every_point_and_part_has_one_name_of_each_kind() -> None:
    family = standard(MADE)
    there = faulty_circuit(family, schoolroom.setting_of(named_state("standing")))
    assert set(POINTS) == set(points())
    assert set(schoolroom.PARTS) <= {part.name for part in there}
    assert set(schoolroom.POINTS) <= set(there.nodes)
    assert len(set(schoolroom.PARTS.values())) == len(schoolroom.PARTS)
    assert len(set(schoolroom.POINTS.values())) == len(schoolroom.POINTS)


def test_a_short_wire_that_is_off_parts_what_it_joined() -> None:
    family = schoolroom.family_machine(Machine())
    pulled = frozenset({"wire Hold.2-Mot.r"})
    on = schoolroom.in_our_words(faulty_circuit(family, Setting(plugged=False)))
    off = schoolroom.in_our_words(faulty_circuit(family, Setting(plugged=False, pulled=pulled)), pulled)
    assert "Hold.2" not in on.nodes
    assert {"Hold.2", "W1"} <= set(off.nodes)
    assert "wire W1" in off
    assert not off.part("wire W1").closed
