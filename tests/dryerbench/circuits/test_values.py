"""A circuit is read by what differs from the one before: the numbers are those of a circuit read for the first time."""

from __future__ import annotations

import numpy as np

from dryerbench.bench.faults import faulty_circuit, read_fault
from dryerbench.bench.machine import Machine
from dryerbench.bench.states import named_state, state_names
from dryerbench.circuits import solver, values
from dryerbench.circuits.circuit import Circuit
from dryerbench.circuits.layout import layout_of
from dryerbench.circuits.recent import Recent
from dryerbench.circuits.solver import solve


def _circuits() -> list[Circuit]:
    machine = Machine()
    faults = [[], [read_fault("high-limit-open")], [read_fault("element-1-open")], []]
    return [faulty_circuit(machine, named_state(state), there) for there in faults for state in state_names()]


def test_what_was_read_before_changes_no_number() -> None:
    for hertz in (0.0, 60.0):
        for circuit in _circuits():
            layout = layout_of(circuit.topology)
            warm = values.values_of(layout, [circuit], hertz)
            values._READERS = Recent(64)
            cold = values.values_of(layout, [circuit], hertz)
            assert warm.marks() == cold.marks()
            values.values_of(layout, [circuit], hertz)


def test_another_value_another_mark() -> None:
    circuit = _circuits()[0]
    part = next(one for one in circuit if one.kind == "resistance")
    other = circuit.changed(part.name, value=part.value * 1.01)
    layout = layout_of(circuit.topology)
    one, two, again = (values.values_of(layout, [each], 60.0).marks()[0] for each in (circuit, other, circuit))
    assert one == again != two


def test_a_circuit_asked_for_again_has_the_very_same_solution() -> None:
    for circuit in _circuits()[:6]:
        solver._SOLVED = Recent(16)
        first, again = solve(circuit), solve(Circuit(circuit, circuit.reference))
        assert again.volts.base is first.volts.base, "it was solved twice"
        solver._SOLVED = Recent(16)
        assert np.array_equal(solve(circuit).impedance, first.impedance)


def test_a_solution_held_by_several_cannot_be_written_to() -> None:
    solution = solve(_circuits()[0])
    assert not solution.volts.flags.writeable
    assert not solution.impedance.flags.writeable
