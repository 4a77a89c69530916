"""The bench of a lesson: the machine of a job card, with whatever is wrong with it, ready to be worked on."""

from __future__ import annotations

from dataclasses import dataclass, field

from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import Machine
from dryerbench.core.sealed import Sealed, unsealed
from dryerbench.course.job_card import JobCard


@dataclass(frozen=True)
class Dealt:
    """What stands on a lesson's bench: the machine and the names of its faults."""

    machine: Machine
    faults: tuple[str, ...] = ()


@dataclass(frozen=True, repr=False)
class BenchCard(JobCard):
    """A card with a machine on the bench. Its lines and attributes say what a person could know; never the faults."""

    sealed: Sealed[Dealt] = field(compare=False)

    @property
    def cord(self) -> str:
        """The dryer's cord, which anyone can see: ``four-wire`` or ``three-wire``."""
        return machine_of(self).cord


def machine_of(card: BenchCard) -> Machine:
    """Return the machine dealt with ``card``."""
    return unsealed(card.sealed).machine


def faults_of(card: BenchCard) -> tuple[str, ...]:
    """Return the faults dealt with ``card``, as the bench reads them."""
    return unsealed(card.sealed).faults


def open_bench(card: BenchCard) -> Bench:
    """Return a fresh bench with the machine of ``card``: plugged in, breaker on, cover on, nothing done yet."""
    return Bench(machine_of(card), faults_of(card))
