"""The bench of a lesson: the machine of a job card, with whatever is wrong with it, ready to be worked on."""

from __future__ import annotations

from dataclasses import dataclass

from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import Machine
from dryerbench.course.job_card import JobCard


@dataclass(frozen=True, repr=False)
class BenchCard(JobCard):
    """A card with a machine on the bench. Its lines say what a person could know; never the faults."""

    machine: Machine
    faults: tuple[str, ...] = ()


def open_bench(card: BenchCard) -> Bench:
    """Return a fresh bench with the machine of ``card``: plugged in, breaker on, cover on, nothing done yet."""
    return Bench(card.machine, card.faults)
