"""Marking: answers as data in, outcomes out. Knows the machine and the models; runs nothing of the apprentice's."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from dryerbench.bands import Band, figures_band, in_words, last_place, rounded
from dryerbench.drills import matching_slips
from dryerbench.kits import PRACTICE
from dryerbench.questions import Question
from dryerbench.sheets import sheet
from dryerbench.slips import SLIPS
from dryerbench.units import commensurable, convert, quantity_of
from grader.found_records import Found
from grader.outcomes import Outcome
from grader.references import Reference, references, worked

_NOTHING = {
    "blank": "Not answered.",
    "no_record": "Nothing was handed in: the cell left no answer. Put your answer in and run the whole notebook.",
    "two_records": "This cell handed in more than one answer, so none counts. Leave the hand-in cell as it was.",
    "bad_record": "What this cell handed in is not an answer record. Leave the hand-in cell as it was.",
    "python_error": 'The cell stopped with a Python error, so there was no answer. Put it in quotes, like "8.9 A".',
    "kernel_died": "The notebook stopped running before this cell, so there is no answer from it.",
}


_UNANSWERED = ("blank", "no_record", "kernel_died")


@dataclass
class _Desk:
    """What has been worked out while one notebook is marked."""

    card: Any
    right: dict[str, float]
    own: dict[str, float] = field(default_factory=dict)
    rounding: dict[str, float] = field(default_factory=dict)
    """Half the last place typed of each own number, in the unit of its question."""


def mark_lesson(lesson: str, apprentice: str, found: Mapping[str, Found]) -> dict[str, Outcome]:
    """Return the outcome of every question of ``lesson`` for ``apprentice``'s own machine.

    Raises
    ------
    UnknownQuestionError
        If there is no such lesson.
    """
    paper = sheet(lesson)
    card = paper.card(apprentice)
    desk = _Desk(card, worked(lesson, card))
    outcomes: dict[str, Outcome] = {}
    for reference in references(lesson):
        question = paper.question(reference.question)
        answer = found.get(question.name, Found("no_record"))
        number = _number_in(question, answer)
        outcomes[question.name] = _mark(lesson, question, reference, answer, number, desk)
        desk.own[question.name] = desk.right[question.name] if number is None else number
        if number is not None and answer.figures:
            desk.rounding[question.name] = last_place(number, answer.figures) / 2
    return {question.name: outcomes[question.name] for question in paper.questions}


def _number_in(question: Question, answer: Found) -> float | None:
    if answer.answered and commensurable(answer.unit, question.unit):
        return convert(answer.magnitude, answer.unit, question.unit)
    return None


def _band(question: Question, number: float) -> Band:
    return Band(number, number) if question.exact else figures_band(number, question.figures)


def _mark(
    lesson: str, question: Question, reference: Reference, answer: Found, number: float | None, desk: _Desk
) -> Outcome:
    if number is None:
        return _outcome(question, answer, 0.0, *_without_number(question, answer))
    right = desk.right[question.name]
    band = _band(question, right)
    if number in band:
        return _outcome(question, answer, question.points, "right", f"Right: {_words(question, right)} counts.")
    points, note, says = _wrong(lesson, question, reference, number, desk)
    return _outcome(question, answer, points, note, f"{says} On your machine {_words(question, right)} counts.")


def _words(question: Question, number: float) -> str:
    return in_words(_band(question, number), question.unit)


def _wrong(lesson: str, question: Question, reference: Reference, number: float, desk: _Desk) -> tuple[float, str, str]:
    right = desk.right[question.name]
    if number in _followed_band(question, reference, desk):
        return (
            _method_points(question),
            "follow_through",
            "The method is right; it was fed with an earlier number of yours that is off.",
        )
    codes = _slips(question, reference, number, desk)
    if codes:
        return 0.0, "+".join(codes), " Or: ".join(SLIPS[code].says for code in codes)
    if not question.exact and _few_figures(number, right, question.figures):
        return (
            question.points / 2,
            "too_few_figures",
            f"Rounded too far: {question.figures} figures are asked for.",
        )
    if number in _band(question, worked(lesson, sheet(lesson).card(PRACTICE))[question.name]):
        return 0.0, "practice_machine", "This fits the practice machine, not yours: work in the folder of your kit."
    return 0.0, "wrong", f"{rounded(number, 4)} {question.unit} is off, and it fits no usual mistake."


def _followed_band(question: Question, reference: Reference, desk: _Desk) -> Band:
    """Return the band around what follows from the own earlier numbers, as rounded when typed; else an empty one."""
    if reference.numbers(desk.card, desk.own) == reference.numbers(desk.card, desk.right):
        return Band(math.inf, -math.inf)
    values = [reference.task.value(reference.numbers(desk.card, desk.own))]
    for name, half in desk.rounding.items():
        for shift in (-half, half):
            shifted = {**desk.own, name: desk.own[name] + shift}
            values.append(reference.task.value(reference.numbers(desk.card, shifted)))
    width = last_place(values[0], question.figures)
    return Band(min(values) - width, max(values) + width)


def _slips(question: Question, reference: Reference, number: float, desk: _Desk) -> tuple[str, ...]:
    for numbers in (reference.numbers(desk.card, desk.right), reference.numbers(desk.card, desk.own)):
        codes = matching_slips(number, reference.task.slip_values(numbers), question.figures)
        if codes:
            return codes
    right = _band(question, desk.right[question.name])
    if number * 1000.0 in right or number / 1000.0 in right:
        return ("kilo",)
    return ("sign",) if -number in right else ()


def _few_figures(number: float, right: float, figures: int) -> bool:
    return figures > 1 and rounded(number, figures - 1) == rounded(right, figures - 1) == f"{number:g}"


def _method_points(question: Question) -> float:
    return max(question.points - 1.0, question.points / 2)


def _without_number(question: Question, answer: Found) -> tuple[str, str]:
    if answer.state in _NOTHING:
        return answer.state, _NOTHING[answer.state]
    if answer.state == "quantity":
        return "other_quantity", (
            f"{answer.unit} measures {quantity_of(answer.unit)}; asked was {quantity_of(question.unit)}, "
            f"in {question.unit}."
        )
    if answer.state == "over_limit":
        return "over_limit", f"OL is what a meter shows; asked was a number, in {question.unit}."
    return "unreadable", 'This could not be read. Write a number and its unit, in quotes, like "8.9 A".'


def _outcome(question: Question, answer: Found, points: float, note: str, message: str) -> Outcome:
    safety = ""
    if question.safety:
        safety = "clear" if points == question.points else "open" if answer.state in _UNANSWERED else "held"
        if safety != "clear":
            message += " This one is about safety: the lesson is not signed off until it is right."
    shown = f"{answer.magnitude:.6g} {answer.unit}" if answer.answered else answer.typed
    return Outcome(question.name, points, question.points, note, message, shown, safety)
