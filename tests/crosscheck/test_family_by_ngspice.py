"""Every machine of the family with every fault in every one of its settings, through ``ngspice``, node by node.

So is every pair of cause and effect. Equal decks are run once. A quick set runs with the tests; all of it by hand:

    python tests/crosscheck/test_family_by_ngspice.py

prints the number of cases, decks and nodes, and the largest differences; it ends with 1 if they are too large.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from dryerbench.circuits.circuit import Circuit
from dryerbench.circuits.solver import solve_all
from dryerbench.circuits.spice import deck_node, write_deck
from dryerbench.family.faults import faults_of, pairs_of
from dryerbench.family.machine import standard
from dryerbench.family.settings import read_setting, setting_names
from dryerbench.family.settling import settle_all
from dryerbench.family.shelf import arrangement, machine_names

NGSPICE = shutil.which("ngspice")
RELATIVE, LEAST_VOLTS = 1e-6, 1e-12
BATCH = 400


@dataclass
class Agreement:
    """How far the two went apart: cases asked, decks run, nodes compared, and the greatest differences."""

    cases: int = 0
    decks: int = 0
    nodes: int = 0
    volts: float = 0.0
    relative: float = 0.0

    def add(self, other: Agreement) -> None:
        self.cases += other.cases
        self.decks += other.decks
        self.nodes += other.nodes
        self.volts = max(self.volts, other.volts)
        self.relative = max(self.relative, other.relative)


def circuits_of(name: str, every: int = 1) -> tuple[int, list[Circuit]]:
    """Return the number of cases of a machine (sound, each fault and pair; each setting) and their circuits."""
    made = arrangement(name)
    settings = [read_setting(words) for words in setting_names(made.heats)]
    faults = [(), *((fault,) for fault in faults_of(made)), *pairs_of(made)]
    cases = [(fault, setting) for fault in faults for setting in settings][::every]
    settled = settle_all(standard(made), cases)
    return len(cases), list({write_deck(one.circuit, ammeters=True): one.circuit for one in settled}.values())


def raw_volts(path: Path) -> dict[str, complex]:
    head, _, body = path.read_bytes().partition(b"Binary:\n")
    lines = head.decode().splitlines()
    start = lines.index("Variables:") + 1
    count = int(next(line for line in lines if line.startswith("No. Variables")).split(":")[1])
    names = [line.split("\t")[2] for line in lines[start : start + count]]
    pairs = np.frombuffer(body, dtype=float).reshape(count, 2)
    return {name: complex(*pair) for name, pair in zip(names, pairs, strict=True)}


def in_ngspice(circuits: Sequence[Circuit]) -> Iterator[dict[str, complex]]:
    """Yield the volts of every node of each circuit, many decks to one process."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        script = ["* all decks", ".control"]
        for place, circuit in enumerate(circuits):
            (folder / f"d{place}.cir").write_text(write_deck(circuit, ammeters=True))
            script += [f"source d{place}.cir", "run", f"write d{place}.raw", "destroy all", "remcirc"]
        (folder / "all.cir").write_text("\n".join([*script, "quit", ".endc", ".end"]) + "\n")
        subprocess.run([str(NGSPICE), "-b", "all.cir"], cwd=folder, capture_output=True, check=False, timeout=300)
        for place in range(len(circuits)):
            yield raw_volts(folder / f"d{place}.raw")


def agreement(name: str, every: int = 1) -> Agreement:
    """Return how far ngspice and the solver go apart on one machine."""
    cases, circuits = circuits_of(name, every)
    found = Agreement(cases=cases, decks=len(circuits))
    for first in range(0, len(circuits), BATCH):
        batch = circuits[first : first + BATCH]
        for solution, theirs in zip(solve_all(batch, pairs=False), in_ngspice(batch), strict=True):
            nodes = solution.layout.nodes
            volts = np.array([theirs[f"v({deck_node(solution.circuit, node)})"] for node in nodes])
            apart = np.abs(volts - solution.volts)
            found.nodes += len(nodes)
            found.volts = max(found.volts, float(apart.max()))
            found.relative = max(found.relative, float((apart / (np.abs(volts) + LEAST_VOLTS / RELATIVE)).max()))
    return found


@pytest.fixture(autouse=True)
def _ngspice() -> None:
    """Skip without ngspice; in CI, where it must be, fail."""
    if NGSPICE is None:
        reason = "ngspice is not installed (Debian: apt-get install ngspice)"
        (pytest.fail if os.environ.get("CI") == "true" else pytest.skip)(reason)


@pytest.mark.parametrize("name", machine_names())
def test_a_quick_set_agrees_node_by_node(name: str) -> None:
    """Every seventeenth case: each fault in one or two settings, each setting with many faults."""
    found = agreement(name, every=17)
    assert found.decks > 40
    assert found.relative < RELATIVE


def main() -> int:
    whole = Agreement()
    for name in machine_names():
        one = agreement(name)
        whole.add(one)
        sys.stdout.write(f"{name:<11} {one.cases:6} cases {one.decks:6} decks {one.nodes:8} nodes, ")
        sys.stdout.write(f"largest difference {one.volts:.2e} V, {one.relative:.2e} of the volts\n")
    sys.stdout.write(f"in all      {whole.cases:6} cases {whole.decks:6} decks {whole.nodes:8} nodes, ")
    sys.stdout.write(f"largest difference {whole.volts:.2e} V, {whole.relative:.2e} of the volts\n")
    return int(whole.relative >= RELATIVE)


if __name__ == "__main__":
    sys.exit(main())
