"""Marking a quantity: right, following from an own earlier number, a known slip, rounded too far, or wrong."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Any

from dryerbench.answers.tolerance import Band, figures_band, in_words, last_place, rounded
from dryerbench.answers.units import commensurable, convert, quantity_of
from dryerbench.core.identity import PRACTICE
from dryerbench.course.drills import matching_slips
from dryerbench.course.questions import Question
from dryerbench.registry import SLIPS, sheet
from legtoleg.keys.answer_key import worked
from legtoleg.keys.reference import Reference
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.judgements import Judgement


@dataclass
class QuantityContext:
    """What has been worked out while one notebook is marked."""

    lesson: str
    card: Any
    right: dict[str, float]
    own: dict[str, float] = field(default_factory=dict)
    rounding: dict[str, float] = field(default_factory=dict)
    """Half the last place typed of each own number, in the unit of its question."""


def judge_quantity(question: Question, reference: Reference, answer: Found, desk: QuantityContext) -> Judgement:
    """Return the judgement of ``answer``, and note the own number on the desk for the questions that build on it."""
    number = _number_in(question, answer)
    judged = _without_number(question, answer) if number is None else _judge(question, reference, number, desk)
    desk.own[question.name] = desk.right[question.name] if number is None else number
    if number is not None and answer.figures:
        desk.rounding[question.name] = last_place(number, answer.figures) / 2
    return judged


def _number_in(question: Question, answer: Found) -> float | None:
    if answer.answered and commensurable(answer.unit, question.unit):
        return convert(answer.magnitude, answer.unit, question.unit)
    return None


def _band(question: Question, number: float) -> Band:
    return Band(number, number) if question.exact else figures_band(number, question.figures)


def _judge(question: Question, reference: Reference, number: float, desk: QuantityContext) -> Judgement:
    band = _band(question, desk.right[question.name])
    key = f"On your machine {in_words(band, question.unit)} counts."
    if number in band:
        return Judgement(question.points, "right", "Right.", key=key)
    points, note, says = _wrong(question, reference, number, desk)
    return Judgement(points, note, says, key=key)


def _wrong(question: Question, reference: Reference, number: float, desk: QuantityContext) -> tuple[float, str, str]:
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
    if number in _band(question, worked(desk.lesson, sheet(desk.lesson).card(PRACTICE))[question.name]):
        return 0.0, "practice_machine", "This fits the practice machine, not yours: work in the folder of your kit."
    return 0.0, "wrong", f"{rounded(number, 4)} {question.unit} is off, and it fits no usual mistake."


def _followed_band(question: Question, reference: Reference, desk: QuantityContext) -> Band:
    """Return the band around what follows from the own earlier numbers, as rounded when typed; else an empty one."""
    if reference.numbers(desk.card, desk.own) == reference.numbers(desk.card, desk.right):
        return Band(math.inf, -math.inf)
    values = [reference.task.value(reference.numbers(desk.card, desk.own))]
    for name, half in desk.rounding.items():
        for shift in (-half, half):
            shifted = {**desk.own, name: desk.own[name] + shift}
            values.append(reference.task.value(reference.numbers(desk.card, shifted)))
    values = [value for value in values if math.isfinite(value)]
    if not values:
        return Band(math.inf, -math.inf)
    width = last_place(values[0], question.figures)
    return Band(min(values) - width, max(values) + width)


def _slips(question: Question, reference: Reference, number: float, desk: QuantityContext) -> tuple[str, ...]:
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


def _without_number(question: Question, answer: Found) -> Judgement:
    wanted = f"asked was {quantity_of(question.unit)}, in {question.unit}."
    if answer.state == "over_limit":
        return Judgement(0.0, "over_limit", f"OL is what a meter shows; {wanted}")
    return Judgement(0.0, "other_quantity", f"{answer.unit} measures {quantity_of(answer.unit)}; {wanted}")
