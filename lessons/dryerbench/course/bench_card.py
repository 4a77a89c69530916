"""A job card with machines of its own, on which a bench is opened; what is wrong with them is sealed."""

from __future__ import annotations

from dataclasses import dataclass, field

from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import Machine
from dryerbench.core.errors import LegToLegError
from dryerbench.core.sealed import Sealed, unsealed
from dryerbench.course.job_card import JobCard


class CardError(LegToLegError, LookupError):
    """A job that a card does not have."""


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

    def job(self, call: int) -> Sealed[Dealt]:
        """Return the job ``call``, sealed; a card has one job unless it says more.

        Raises
        ------
        CardError
            If the card has no such job.
        """
        if call != 1:
            raise CardError("This card has one job: open_bench(card).")
        return self.sealed


@dataclass(frozen=True, repr=False, kw_only=True)
class TwoBenchCard(BenchCard):
    """A card with a second dryer besides, which may stand elsewhere."""

    second: Sealed[Dealt] = field(compare=False)

    def job(self, call: int) -> Sealed[Dealt]:
        """Return the first dryer's job (1) or the second one's (2), sealed.

        Raises
        ------
        CardError
            If ``call`` is neither 1 nor 2.
        """
        if call not in (1, 2):
            raise CardError("The dryers of this card are 1 and 2: open_bench(card, 2).")
        return self.sealed if call == 1 else self.second


def machine_of(card: BenchCard, call: int = 1) -> Machine:
    """Return the machine dealt with the job ``call`` of ``card``.

    Raises
    ------
    CardError
        If ``card`` has no such job.
    """
    return unsealed(card.job(call)).machine


def faults_of(card: BenchCard, call: int = 1) -> tuple[str, ...]:
    """Return the faults dealt with the job ``call`` of ``card``, as the bench reads them.

    Raises
    ------
    CardError
        If ``card`` has no such job.
    """
    return unsealed(card.job(call)).faults


def open_bench(card: BenchCard, call: int = 1) -> Bench:
    """Return a fresh bench with a machine of ``card``: plugged in, breaker on, cover on, nothing done yet.

    Raises
    ------
    CardError
        If ``card`` has no job ``call``.
    """
    return Bench(machine_of(card, call), faults_of(card, call))
