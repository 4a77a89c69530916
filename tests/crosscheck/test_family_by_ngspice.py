"""Every machine of the family with every fault in every one of its settings, through ``ngspice``, node by node.

So is every pair of cause and effect. Equal decks are run once. A quick set runs with the tests; all of it by hand:

    python -m tests.crosscheck.test_family_by_ngspice

prints the number of cases, decks and nodes, and the largest differences; it ends with 1 if they are too large.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Sequence
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

from .ngspice import in_ngspice, need_ngspice

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


def volts_of(circuits: Sequence[Circuit]) -> list[dict[str, complex]]:
    with tempfile.TemporaryDirectory() as folder:
        return list(in_ngspice(Path(folder), circuits))


def agreement(name: str, every: int = 1) -> Agreement:
    """Return how far ngspice and the solver go apart on one machine."""
    cases, circuits = circuits_of(name, every)
    found = Agreement(cases=cases, decks=len(circuits))
    for first in range(0, len(circuits), BATCH):
        batch = circuits[first : first + BATCH]
        for solution, theirs in zip(solve_all(batch, pairs=False), volts_of(batch), strict=True):
            nodes = solution.layout.nodes
            volts = np.array([theirs[f"v({deck_node(solution.circuit, node)})"] for node in nodes])
            apart = np.abs(volts - solution.volts)
            found.nodes += len(nodes)
            found.volts = max(found.volts, float(apart.max()))
            found.relative = max(found.relative, float((apart / (np.abs(volts) + LEAST_VOLTS / RELATIVE)).max()))
    return found


@pytest.fixture(autouse=True)
def _ngspice() -> None:
    need_ngspice()


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
