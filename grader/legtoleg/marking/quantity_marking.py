"""Marking a quantity: right, following from an own earlier number, a known slip, rounded too far, or wrong."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from dryerbench.answers.acceptance import Wanted, Written, sure_figures
from dryerbench.answers.tolerance import Band, in_words, last_place, rounded
from dryerbench.answers.units import quantity_of
from dryerbench.course.drills import matching_slips
from dryerbench.course.honest_ways import HonestWays
from dryerbench.course.job_card import JobCard
from dryerbench.course.questions import Question
from dryerbench.registry import SLIPS, sheet
from legtoleg.keys.reference import Reference
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.judgements import Judgement
from legtoleg.marking.working_marking import Origins, judge_differing_sum, method_points, refined


@dataclass
class QuantityContext:
    """What has been worked out while one notebook is marked."""

    lesson: str
    card: JobCard
    right: dict[str, float]
    own: dict[str, float] = field(default_factory=dict)
    rounding: dict[str, float] = field(default_factory=dict)
    """Half the last place typed of each own number, in the unit of its question."""
    good: set[str] = field(default_factory=set)
    """The questions whose own number was itself judged right; one without a number counts with the right one."""
    unexplained: set[str] = field(default_factory=set)
    """The questions whose own number is off and fits no usual mistake."""
    ways: dict[str, HonestWays] = field(default_factory=dict)
    """The honest ways from the right earlier numbers, by question."""


class _Looked(dict[str, float]):
    """Earlier numbers that note which of them were looked at."""

    def __init__(self, numbers: Mapping[str, float]) -> None:
        super().__init__(numbers)
        self.names: set[str] = set()

    def __getitem__(self, name: str) -> float:
        self.names.add(name)
        return super().__getitem__(name)


def wanted(question: Question) -> Wanted:
    """Return how the number of ``question`` is asked for."""
    return Wanted(question.unit, question.figures, question.exact)


def judge_quantity(
    question: Question, reference: Reference[JobCard], answer: Found, desk: QuantityContext
) -> Judgement:
    """Return the judgement of ``answer``, and note the own number on the desk for the questions that build on it."""
    written = _written_in(question, answer)
    if written is None:
        desk.own[question.name] = desk.right[question.name]
        desk.good.add(question.name)
        return _without_number(question, answer)
    judged = _judge(question, reference, written, desk)
    if answer.working:
        band = wanted(question).band(desk.right[question.name], question.unit)
        judged = replace(refined(question, answer, judged, band, _origins(question, reference, desk)), safe=judged.safe)
    desk.own[question.name] = written.to(question.unit)
    if answer.figures:
        half = last_place(written.magnitude, answer.figures) / 2
        shifted = replace(written, magnitude=written.magnitude + half)
        desk.rounding[question.name] = abs(shifted.to(question.unit) - desk.own[question.name])
    if judged.points == question.points:
        desk.good.add(question.name)
    if judged.note == "wrong":
        desk.unexplained.add(question.name)
    return judged


def judge_unread(question: Question, answer: Found, desk: QuantityContext) -> Judgement | None:
    """Return the judgement of a sum that does not come to the result behind it; None for what holds no number."""
    band = wanted(question).band(desk.right[question.name], question.unit)
    judged = judge_differing_sum(question, answer, band)
    return judged and replace(judged, key=f"{judged.key} {_key(question, desk, question.unit)}".lstrip())


def _origins(question: Question, reference: Reference[JobCard], desk: QuantityContext) -> Origins:
    """Return where the numbers of a sum for ``question`` may come from."""
    paper = sheet(desk.lesson)
    earlier = {name: paper.question(name) for name in desk.own if name != question.name}
    own = {one.title: (desk.own[name], one.unit) for name, one in earlier.items() if isinstance(one, Question)}
    return Origins(desk.card, reference.numbers(desk.card, desk.own), own, frozenset(desk.right.values()))


def _written_in(question: Question, answer: Found) -> Written | None:
    if answer.answered and quantity_of(answer.unit) == quantity_of(question.unit):
        return Written(answer.magnitude, answer.unit, sure_figures(answer.typed, answer.figures))
    return None


def _judge(question: Question, reference: Reference[JobCard], written: Written, desk: QuantityContext) -> Judgement:
    key = _key(question, desk, written.unit)
    says = _right(question, reference, written, desk)
    if says is not None:
        return Judgement(question.points, "right", f"Right. {says}".rstrip(), safe=True, key=key)
    points, note, says = _wrong(question, reference, written, desk)
    if not question.safety:
        return Judgement(points, note, says, key=key)
    code = _idea(question, reference, written, desk)
    if reference.task.ideas is None:
        return Judgement(points, note, says, safe=False)
    if code is None:
        return Judgement(points, note, f"{says} {_WHICH_IDEA}", safe=False)
    if code:
        return Judgement(0.0, code, SLIPS[code].says, safe=False)
    return Judgement(question.points / 2, "figures_off", _ONLY_FIGURES, safe=True)


def _key(question: Question, desk: QuantityContext, unit: str) -> str:
    """Return in a sentence what counts on the card, in ``unit``."""
    return f"On your dryer {in_words(wanted(question).band(desk.right[question.name], unit), unit)} counts."


_WHICH_IDEA = "First say what is there: nothing, one leg, or leg to leg. Then work out the number."
_ONLY_FIGURES = "You have the idea right, so nobody gets hurt. The number is off: work it out from your card."


def _idea(question: Question, reference: Reference[JobCard], written: Written, desk: QuantityContext) -> str | None:
    """Return the code of the wrong idea behind a number, "" for the right idea, None where it shows none."""
    return reference.task.idea(written.to(question.unit), reference.numbers(desk.card, desk.right))


def _right(question: Question, reference: Reference[JobCard], written: Written, desk: QuantityContext) -> str | None:
    """Return what to add to "right", or None if ``written`` is not the end of an honest way.

    Honest ways start from the right earlier numbers, and from the own ones if they were judged right themselves.
    """
    right, looked = reference.numbers(desk.card, desk.right), _Looked(desk.own)
    asked = wanted(question)
    said = desk.ways.setdefault(question.name, HonestWays(reference.task, right, asked)).fit(written)
    if said is not None:
        return said
    own = reference.numbers(desk.card, looked)
    if looked.names - desk.good or own == right:
        return None
    return HonestWays(reference.task, own, asked).fit(written)


def _wrong(
    question: Question, reference: Reference[JobCard], written: Written, desk: QuantityContext
) -> tuple[float, str, str]:
    number = written.to(question.unit)
    if _follows(question, reference, written, desk):
        return (
            method_points(question),
            "follow_through",
            "The method is right. It used an earlier answer of yours that was wrong.",
        )
    codes = _slips(question, reference, number, desk)
    if codes:
        return 0.0, "+".join(codes), " Or: ".join(SLIPS[code].says for code in codes)
    if wanted(question).is_short_of(written, desk.right[question.name]):
        return (
            question.points / 2,
            "too_few_figures",
            f"Rounded too far: {question.figures} figures are asked for.",
        )
    typed = f"{rounded(written.magnitude, written.figures or 4)} {written.unit}"
    return 0.0, "wrong", f"{typed} is off, and it does not look like a usual mistake."


def _follows(question: Question, reference: Reference[JobCard], written: Written, desk: QuantityContext) -> bool:
    """Tell whether ``written`` follows from the own earlier numbers, as they were typed or before they were rounded."""
    looked = _Looked(desk.own)
    own = reference.numbers(desk.card, looked)
    if not looked.names - desk.good or own == reference.numbers(desk.card, desk.right):
        return False
    if HonestWays(reference.task, own, wanted(question)).fit(written) is not None:
        return True
    values = [reference.task.value(own)]
    for name in looked.names & set(desk.rounding):
        for shift in (-desk.rounding[name], desk.rounding[name]):
            shifted = {**desk.own, name: desk.own[name] + shift}
            values.append(reference.task.value(reference.numbers(desk.card, shifted)))
    values = [value for value in values if math.isfinite(value)]
    if not values:
        return False
    width = last_place(values[0], question.figures)
    return written.to(question.unit) in Band(min(values) - width, max(values) + width)


def _slips(question: Question, reference: Reference[JobCard], number: float, desk: QuantityContext) -> tuple[str, ...]:
    for numbers in (reference.numbers(desk.card, desk.right), reference.numbers(desk.card, desk.own)):
        codes = matching_slips(number, reference.task.slip_values(numbers), question.figures)
        if codes:
            return codes
    right = wanted(question).band(desk.right[question.name], question.unit)
    if number * 1000.0 in right or number / 1000.0 in right:
        return ("kilo",)
    return ("sign",) if -number in right else ()


def _without_number(question: Question, answer: Found) -> Judgement:
    wanted = f"this question wants {quantity_of(question.unit)}, in {question.unit}."
    if answer.state == "over_limit":
        return Judgement(0.0, "over_limit", f"OL is what a meter shows; {wanted}")
    return Judgement(0.0, "other_quantity", f"{answer.unit} measures {quantity_of(answer.unit)}; {wanted}")
