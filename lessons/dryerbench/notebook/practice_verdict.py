"""Verdicts: what is said at once to a practice answer, with the slip named."""

from __future__ import annotations

from dataclasses import dataclass

from dryerbench.answers.acceptance import Wanted, Written
from dryerbench.answers.answer import Answer
from dryerbench.answers.tolerance import in_words
from dryerbench.answers.units import quantity_of
from dryerbench.course.drills import Drill, matching_slips
from dryerbench.course.honest_ways import HonestWays
from dryerbench.course.models import Numbers
from dryerbench.registry import SLIPS, TASKS


@dataclass(frozen=True)
class Verdict:
    """What is said to a practice answer: whether it is right, and why or why not."""

    right: bool
    says: str
    slips: tuple[str, ...] = ()


def verdict(drill: Drill, numbers: Numbers, answer: Answer) -> Verdict:
    """Return what is to be said to ``answer`` on the drill's ``numbers``."""
    if answer.kind == "over_limit":
        return Verdict(False, f"OL is what a meter shows. Work out the number, in {drill.unit}.")
    if quantity_of(answer.unit) != quantity_of(drill.unit):
        return Verdict(
            False,
            f"{answer.unit} measures {quantity_of(answer.unit)}. "
            f"The question asks for {quantity_of(drill.unit)}, in {drill.unit}.",
        )
    task, asked = TASKS[drill.task], Wanted(drill.unit, drill.figures)
    ways = HonestWays(task, numbers, asked)
    says = ways.fit(Written(answer.magnitude, answer.unit, answer.sure_figures))
    if says is not None:
        words = in_words(asked.band(ways.right, answer.unit), answer.unit)
        return Verdict(True, f"Right: {words} counts. {says}".rstrip())
    number, band = answer.to(drill.unit), asked.band(ways.right, drill.unit)
    codes = matching_slips(number, task.slip_values(numbers), drill.figures)
    if not codes and (number * 1000.0 in band or number / 1000.0 in band):
        codes = ("kilo",)
    if codes:
        return Verdict(False, " Or: ".join(SLIPS[code].says for code in codes), codes)
    return Verdict(False, "Not that. Write down which volts and which ohms, then try again.")
