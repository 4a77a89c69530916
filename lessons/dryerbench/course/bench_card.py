"""The bench of a lesson: the machine of a job card, with whatever is wrong with it, ready to be worked on."""

from __future__ import annotations

from dataclasses import dataclass

from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import Machine
from dryerbench.core.errors import LegToLegError
from dryerbench.course.job_card import JobCard


class CardError(LegToLegError, LookupError):
    """A job that a card does not have."""


@dataclass(frozen=True, repr=False)
class BenchCard(JobCard):
    """A card with a machine on the bench. Its lines say what a person could know; never the faults."""

    machine: Machine
    faults: tuple[str, ...] = ()

    def job(self, call: int) -> tuple[Machine, tuple[str, ...]]:
        """Return the machine of the job ``call`` and what is wrong with it; a card has one job unless it says more.

        Raises
        ------
        CardError
            If the card has no such job.
        """
        if call != 1:
            raise CardError("This card has one job: open_bench(card).")
        return self.machine, self.faults


def open_bench(card: BenchCard, call: int = 1) -> Bench:
    """Return a fresh bench with a machine of ``card``: plugged in, breaker on, cover on, nothing done yet.

    Raises
    ------
    CardError
        If the card has no job ``call``.
    """
    machine, faults = card.job(call)
    return Bench(machine, faults)
