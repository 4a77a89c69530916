"""The practice machine: whether the numbers of one hand-in that are off are those of the practice machine."""

from __future__ import annotations

from dryerbench.answers.tolerance import figures_band, rounded_number
from dryerbench.core.identity import PRACTICE
from dryerbench.course.questions import Question
from dryerbench.registry import sheet
from legtoleg.keys.answer_key import worked
from legtoleg.marking.quantity_marking import QuantityContext

SEVERAL = 3
"""How many numbers of one hand-in have to fit the practice machine before that is said (our own rule)."""
SHARE = 0.5
"""The least share of all numbers that are off and fit no usual mistake which has to fit it."""
ROUND_VOLTS = (120.0, 208.0, 240.0)
"""Numbers [V] that fit the practice machine and every textbook: they say nothing."""

SAYS = (
    "It fits the practice machine, and so do other numbers of this page: was it worked in the folder of your kit? "
    "Your own card counts."
)


def fitting(desk: QuantityContext) -> frozenset[str]:
    """Return the questions whose numbers are the practice machine's; none unless there are several, and most are."""
    practice = worked(desk.lesson, sheet(desk.lesson).card(PRACTICE))
    found = {name for name in desk.unexplained if _fits(desk, name, practice[name])}
    enough = len(found) >= SEVERAL and len(found) >= SHARE * len(desk.unexplained)
    return frozenset(found) if enough else frozenset()


def _fits(desk: QuantityContext, name: str, number: float) -> bool:
    question = sheet(desk.lesson).question(name)
    assert isinstance(question, Question)
    if question.unit == "V" and rounded_number(number, 3) in ROUND_VOLTS:
        return False
    return desk.own[name] in figures_band(number, question.figures)
