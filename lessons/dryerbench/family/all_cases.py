"""Every fault of a machine in every setting, settled and solved: live where it is plugged in, dead where it is not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dryerbench.circuits.circuit import Circuit
from dryerbench.circuits.solver import Solution, solve_all
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.faults import Fault, faults_of
from dryerbench.family.machine import Machine
from dryerbench.family.settings import Setting, read_setting, setting_names
from dryerbench.family.settling import Settled, settle_all

CaseOf = tuple[tuple[Fault, ...], Setting]


@dataclass(frozen=True, slots=True)
class Solved:
    """One settled case with its solution: ``live`` if the supply reaches the block, else ``dead``."""

    settled: Settled
    live: Solution | None
    dead: Solution | None

    @property
    def circuit(self) -> Circuit:
        """The circuit as it stands."""
        return self.settled.circuit


def all_cases(made: Arrangement) -> list[CaseOf]:
    """Return every case of a machine: sound and each fault at its usual strength, in each of its settings."""
    settings = [read_setting(words) for words in setting_names(made.heats)]
    faults: list[tuple[Fault, ...]] = [(), *((fault,) for fault in faults_of(made))]
    return [(fault, setting) for fault in faults for setting in settings]


def solve_settled(machine: Machine, cases: Sequence[CaseOf]) -> list[Solved]:
    """Return each case settled and solved with all its pairs, in the order in which they were asked."""
    settled = settle_all(machine, cases, pairs=True)
    others = [place for place, one in enumerate(settled) if not one.setting.powered]
    dead = dict(zip(others, solve_all([settled[place].circuit for place in others], 0.0), strict=True))
    return [Solved(one, None if place in dead else one.live, dead.get(place)) for place, one in enumerate(settled)]
