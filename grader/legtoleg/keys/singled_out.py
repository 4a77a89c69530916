"""Whether the readings of a bench's trail single out one fault, on the book values that the maker gives."""

from __future__ import annotations

from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import Machine
from dryerbench.bench.worksite import machine_on
from dryerbench.diagnosis.paths import from_trail

ENOUGH = 0.98
"""The odds from which a name counts as shown (our own rule): few readings of a rare fault stay below 0.995."""


def left_possible(bench: Bench, _: str = "") -> list[str]:
    """Return the faults that the readings in the trail of ``bench`` leave possible, the likeliest first."""
    return from_trail(Machine(cord=machine_on(bench).cord), bench.trail).singled_out(ENOUGH)


def singled_out(bench: Bench, key: str) -> bool:
    """Return whether the readings in the trail of ``bench`` leave the fault named ``key``, and no other."""
    return left_possible(bench) == [key]
