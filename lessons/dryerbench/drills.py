"""Drills: practice on numbers dealt afresh, with the slip named at once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from dryerbench.answers import Answer
from dryerbench.bands import figures_band, in_words
from dryerbench.slips import SLIPS
from dryerbench.tasks import TASKS
from dryerbench.units import commensurable, quantity_of
from dryerbench.variants import Stream


@dataclass(frozen=True)
class Drill:
    """One kind of practice: a task, its numbers drawn from a stream, and the sentence that asks."""

    task: str
    unit: str
    figures: int
    draw: Callable[[Stream], dict[str, Any]]
    ask: Callable[[dict[str, Any]], str]

    def numbers(self, turn: int) -> dict[str, Any]:
        """Return the numbers of the ``turn``-th go."""
        return self.draw(Stream(f"leg-to-leg/drill/{self.task}/{turn}"))


@dataclass(frozen=True)
class Verdict:
    """What is said to a practice answer: whether it is right, and why or why not."""

    right: bool
    says: str
    slips: tuple[str, ...] = ()


def matching_slips(number: float, values: dict[str, float], figures: int) -> tuple[str, ...]:
    """Return the codes of all slips whose number is ``number`` to ``figures`` figures."""
    return tuple(code for code, value in values.items() if number in figures_band(value, figures))


def verdict(drill: Drill, numbers: dict[str, Any], answer: Answer) -> Verdict:
    """Return what is to be said to ``answer`` on the drill's ``numbers``."""
    if answer.kind == "over_limit":
        return Verdict(False, f"OL is what a meter shows. Work out the number, in {drill.unit}.")
    if not commensurable(answer.unit, drill.unit):
        return Verdict(
            False,
            f"{answer.unit} measures {quantity_of(answer.unit)}. Asked is {quantity_of(drill.unit)}, in {drill.unit}.",
        )
    task, number = TASKS[drill.task], answer.to(drill.unit)
    band = figures_band(task.value(numbers), drill.figures)
    if number in band:
        return Verdict(True, f"Right: {in_words(band, drill.unit)} counts.")
    codes = matching_slips(number, task.slip_values(numbers), drill.figures)
    if not codes and (number * 1000.0 in band or number / 1000.0 in band):
        codes = ("kilo",)
    if codes:
        return Verdict(False, " Or: ".join(SLIPS[code].says for code in codes), codes)
    return Verdict(False, "Not that. Write down which volts, which ohms, and try once more.")
