"""Every fault in every state, written as a SPICE deck and solved by ``neospice`` (an independent simulator, MIT).

The deck comes from the netlist's parts. Volts of every node must agree to 1e-6 relative. The plain form writes a
contact as a resistance: beside its 100 S the 1e-8 S of a floating wire's strays lose digits in any simulator that
stamps conductances, so that form is held to 1e-5 and the form with ammeters to 1e-6.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import neospice
import numpy as np
import pytest

from dryerbench.bench.faults import Fault, catalogue, fault_names, faulty_circuit, fits, read_fault
from dryerbench.bench.machine import Machine, drawn_machine
from dryerbench.bench.states import named_state, state_names
from dryerbench.circuits.circuit import Circuit
from dryerbench.circuits.solver import solve_all
from dryerbench.circuits.spice import deck_node, write_deck
from dryerbench.core.random_stream import Stream

CORDS = (Machine(), Machine(cord="three-wire"), Machine(cord="three-wire", supply="wye"))


def circuits() -> Iterator[Circuit]:
    for name in ("", *fault_names()):
        faults = [read_fault(name)] if name else []
        machine = next(m for m in CORDS if all(fits(fault, m) for fault in faults))
        for state in state_names():
            yield faulty_circuit(machine, named_state(state), faults)
    for state in state_names():
        yield faulty_circuit(CORDS[2], named_state(state), [Fault("element-3-grounded", 0.9), Fault("strap-missing")])


ALL = list(circuits())


def volts(result: neospice.ACResult | neospice.DCResult, circuit: Circuit, nodes: tuple[str, ...]) -> np.ndarray:
    return np.array([np.atleast_1d(result.voltage(deck_node(circuit, node)))[0] for node in nodes])


@pytest.mark.parametrize(("ammeters", "tolerance"), [(True, 1e-6), (False, 1e-5)])
def test_live_volts_of_every_node(ammeters: bool, tolerance: float) -> None:
    simulator = neospice.Simulator()
    for solution in solve_all(ALL):
        deck = simulator.parse(write_deck(solution.circuit, ammeters=ammeters))
        result = simulator.run_ac(deck, neospice.ACMode.LIN, 1, 60.0, 60.0)
        theirs = volts(result, solution.circuit, solution.layout.nodes)
        np.testing.assert_allclose(theirs, solution.volts, rtol=tolerance, atol=1e-12)


def random_circuit(seed: int) -> Circuit:
    """A machine, supply and state of its own with up to three faults together."""
    stream = Stream(f"test/decks/{seed}")
    cord = stream.choose(("four-wire", "three-wire"))
    machine = replace(drawn_machine(stream, f"random {seed}", cord), supply=stream.choose(("split", "wye")))
    names = stream.shuffle([name for name in fault_names() if catalogue(name)["cord"] in ("any", cord)])
    faults = [read_fault(name) for name in names[: stream.integer(2, 3)]]
    return faulty_circuit(machine, named_state(stream.choose(state_names())), faults)


def test_faults_together_on_random_machines() -> None:
    simulator = neospice.Simulator()
    for solution in solve_all([random_circuit(seed) for seed in range(150)]):
        deck = simulator.parse(write_deck(solution.circuit, ammeters=True))
        result = simulator.run_ac(deck, neospice.ACMode.LIN, 1, 60.0, 60.0)
        theirs = volts(result, solution.circuit, solution.layout.nodes)
        np.testing.assert_allclose(theirs, solution.volts, rtol=1e-6, atol=1e-12)


@pytest.mark.parametrize("probes", [("T1", "T0"), ("L1", "L2"), ("T1", "case")])
def test_ohms_of_dead_machines(probes: tuple[str, str]) -> None:
    """Gigaohms to earth stand on the diagonal beside milliohms, so 1e-5 Ω is what doubles can keep of a pair."""
    simulator = neospice.Simulator()
    for solution in solve_all(ALL, 0.0):
        circuit = solution.circuit
        result = simulator.run(simulator.parse(write_deck(circuit, probes=probes, ammeters=True))).dc
        a, b = volts(result, circuit, probes)
        ours = solution[probes].ohms.real
        assert a - b == pytest.approx(ours, rel=1e-6 if ours < 1e7 else 1e-5, abs=1e-5)
