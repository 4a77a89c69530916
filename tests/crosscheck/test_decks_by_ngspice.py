"""The same decks through ``ngspice`` (Debian's package), all in one process, volts read from its raw files."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest

from dryerbench.bench.faults import fault_names, faulty_circuit, fits, read_fault
from dryerbench.bench.machine import Machine
from dryerbench.bench.states import named_state, state_names
from dryerbench.circuits.circuit import Circuit
from dryerbench.circuits.solver import solve_all
from dryerbench.circuits.spice import deck_node, write_deck

NGSPICE = shutil.which("ngspice")


@pytest.fixture(autouse=True)
def _ngspice() -> None:
    """Skip without ngspice; in CI, where it must be, fail."""
    if NGSPICE is None:
        reason = "ngspice is not installed (Debian: apt-get install ngspice)"
        (pytest.fail if os.environ.get("CI") == "true" else pytest.skip)(reason)


def raw_volts(path: Path) -> dict[str, complex]:
    head, _, body = path.read_bytes().partition(b"Binary:\n")
    lines = head.decode().splitlines()
    start = lines.index("Variables:") + 1
    count = int(next(line for line in lines if line.startswith("No. Variables")).split(":")[1])
    names = [line.split("\t")[2] for line in lines[start : start + count]]
    pairs = np.frombuffer(body, dtype=float).reshape(count, 2)
    return {name: complex(*pair) for name, pair in zip(names, pairs, strict=True)}


def run_all(folder: Path, circuits: list[Circuit]) -> list[dict[str, complex]]:
    script = ["* all decks", ".control"]
    for place, circuit in enumerate(circuits):
        (folder / f"d{place}.cir").write_text(write_deck(circuit, ammeters=True))
        script += [f"source d{place}.cir", "run", f"write d{place}.raw", "destroy all", "remcirc"]
    (folder / "all.cir").write_text("\n".join([*script, "quit", ".endc", ".end"]) + "\n")
    subprocess.run([str(NGSPICE), "-b", "all.cir"], cwd=folder, capture_output=True, check=False, timeout=120)
    return [raw_volts(folder / f"d{place}.raw") for place in range(len(circuits))]


def test_live_volts_of_every_node_for_every_fault_and_state(tmp_path: Path) -> None:
    circuits = []
    for name in ("", *fault_names()):
        faults = [read_fault(name)] if name else []
        machine = next(m for m in (Machine(), Machine(cord="three-wire")) if all(fits(f, m) for f in faults))
        circuits += [faulty_circuit(machine, named_state(state), faults) for state in state_names()]
    for solution, theirs in zip(solve_all(circuits), run_all(tmp_path, circuits), strict=True):
        found = [theirs[f"v({deck_node(solution.circuit, node)})"] for node in solution.layout.nodes]
        np.testing.assert_allclose(found, solution.volts, rtol=1e-6, atol=1e-12)
