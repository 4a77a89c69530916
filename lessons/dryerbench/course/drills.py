"""Drills: practice on numbers dealt afresh."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from dryerbench.answers.tolerance import figures_band
from dryerbench.core.random_stream import Stream
from dryerbench.course.models import Numbers


@dataclass(frozen=True)
class Drill:
    """One kind of practice: a task, its numbers drawn from a stream, and the sentence that asks."""

    task: str
    unit: str
    figures: int
    draw: Callable[[Stream], Numbers]
    ask: Callable[[Numbers], str]

    def numbers(self, turn: int) -> Numbers:
        """Return the numbers of the ``turn``-th go."""
        return self.draw(Stream(f"leg-to-leg/drill/{self.task}/{turn}"))


def matching_slips(number: float, values: dict[str, float], figures: int) -> tuple[str, ...]:
    """Return the codes of all slips whose number is ``number`` to ``figures`` figures."""
    return tuple(code for code, value in values.items() if number in figures_band(value, figures))
