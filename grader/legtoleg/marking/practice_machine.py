"""The practice machine: whether the numbers of one hand-in that are off are those of the practice machine.

Said of a hand-in only, never of one answer. A lesson with fewer than two numbers of its own, as 09 has, never says it.
"""

from __future__ import annotations

from collections.abc import Mapping

from dryerbench.answers.tolerance import figures_band, rounded_number
from dryerbench.core.identity import PRACTICE
from dryerbench.course.job_card import JobCard
from dryerbench.course.questions import Choice, Choices, Question
from dryerbench.registry import sheet
from legtoleg.keys.answer_key import references, worked
from legtoleg.keys.reference import ChoiceReference
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.letters_marking import keys_in
from legtoleg.marking.quantity_marking import QuantityContext

SEVERAL = 3
"""How many numbers of one hand-in have to fit the practice machine before that is said (our own rule)."""
LETTERS = 2
"""How many wrong letters count like a third number: one fits by chance one time in three or four."""
SHARE = 0.5
"""The least share of all numbers that are off and fit no usual mistake which has to fit it."""
ROUND_VOLTS = (120.0, 208.0, 240.0)
"""Numbers [V] that fit the practice machine and every textbook: they say nothing."""

SAYS = (
    "It fits the practice dryer, and so do other answers on this page. Did you work in the folder of your kit? "
    "Only your own card counts."
)


def fitting(desk: QuantityContext, wrong: Mapping[str, Found]) -> frozenset[str]:
    """Return the questions whose numbers are the practice machine's; none unless several answers are, and most numbers.

    ``wrong`` are the answers of the hand-in that earned nothing, by their questions.
    """
    card = sheet(desk.lesson).card(PRACTICE)
    practice = worked(desk.lesson, card)
    found = {name for name in desk.unexplained if _fits(desk, name, practice[name])}
    letters = [name for name, answer in wrong.items() if answer.letters and _fits_letters(desk, name, answer, card)]
    enough = len(found) >= SEVERAL or (len(found) == SEVERAL - 1 and len(letters) >= LETTERS)
    return frozenset(found) if enough and len(found) >= SHARE * len(desk.unexplained) else frozenset()


def _fits_letters(desk: QuantityContext, name: str, answer: Found, card: JobCard) -> bool:
    """Tell whether the letters of a choice are the right ones of the practice machine on ``card``."""
    question = sheet(desk.lesson).question(name)
    reference = next(one for one in references(desk.lesson) if one.question == name)
    if not isinstance(question, Choice | Choices) or not isinstance(reference, ChoiceReference):
        return False
    keys = keys_in(question, answer, card)
    return keys is not None and frozenset(keys) == reference.right(card)


def _fits(desk: QuantityContext, name: str, number: float) -> bool:
    question = sheet(desk.lesson).question(name)
    assert isinstance(question, Question)
    if question.unit == "V" and rounded_number(number, 3) in ROUND_VOLTS:
        return False
    return desk.own[name] in figures_band(number, question.figures)
