"""The same decks through ``ngspice`` (Debian's package), all in one process, volts read from its raw files."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from dryerbench.bench.faults import fault_names, faulty_circuit, fits, read_fault
from dryerbench.bench.machine import Machine
from dryerbench.bench.states import named_state, state_names
from dryerbench.circuits.solver import solve_all
from dryerbench.circuits.spice import deck_node

from .ngspice import in_ngspice, need_ngspice


@pytest.fixture(autouse=True)
def _ngspice() -> None:
    need_ngspice()


def test_live_volts_of_every_node_for_every_fault_and_state(tmp_path: Path) -> None:
    circuits = []
    for name in ("", *fault_names()):
        faults = [read_fault(name)] if name else []
        machine = next(m for m in (Machine(), Machine(cord="three-wire")) if all(fits(f, m) for f in faults))
        circuits += [faulty_circuit(machine, named_state(state), faults) for state in state_names()]
    for solution, theirs in zip(solve_all(circuits), in_ngspice(tmp_path, circuits), strict=True):
        found = [theirs[f"v({deck_node(solution.circuit, node)})"] for node in solution.layout.nodes]
        np.testing.assert_allclose(found, solution.volts, rtol=1e-6, atol=1e-12)
