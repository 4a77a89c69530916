"""Marking by the working: a sum that was typed with an answer tells which step is off, and earns the method's points.

The sum is text from a notebook: it is read again by the strict grammar of ``dryerbench.answers.working``. For a safety
question the working changes nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from dryerbench.answers.answer import Answer
from dryerbench.answers.parser import comes_to, parse
from dryerbench.answers.tolerance import Band
from dryerbench.answers.units import convert, quantity_of
from dryerbench.answers.working import Term, Working, sum_in
from dryerbench.core.errors import SumError
from dryerbench.course.job_card import JobCard
from dryerbench.course.questions import Question
from dryerbench.registry import SLIPS
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.judgements import Judgement

__all__ = ["Origins", "judge_differing_sum", "method_points", "refined"]

WRONG_INPUT, SUM_DIFFERS, ARITHMETIC = "wrong_input", "sum_differs", "arithmetic_slip"
_NEAR = 1e-9
_CALCULATED = 6
"""The figures to which a sum has to come to the answer that was calculated from it."""
_ON_CARD = re.compile(r"[-\u2212]?[0-9]+(?:\.[0-9]+)? ?[^\s0-9,;()]+")


@dataclass(frozen=True)
class Origins:
    """Where the numbers of a sum may come from: the card, the right model's inputs, own earlier answers by title."""

    card: JobCard
    inputs: Mapping[str, object]
    own: Mapping[str, tuple[float, str]]
    hidden: frozenset[float] = frozenset()
    """Right numbers of other questions, which feedback must not tell."""


@dataclass(frozen=True)
class _Known:
    """One number that belongs in a sum: its unit ("" if not told) and what it is called."""

    magnitude: float
    unit: str
    says: str
    shown: bool = True
    """Whether it stands on the card or in an own answer; what only the marker knows is part of the key."""

    def in_unit(self, unit: str) -> float | None:
        """Return it in ``unit``; None if it measures something else."""
        if not unit or not self.unit:
            return self.magnitude
        return convert(self.magnitude, self.unit, unit) if quantity_of(unit) == quantity_of(self.unit) else None

    def stands_for(self, term: Term) -> bool:
        """Tell whether ``term`` is this number."""
        number = self.in_unit(term.unit)
        return number is not None and _same(number, term.magnitude)


def _same(a: float, b: float) -> bool:
    return abs(a - b) <= _NEAR * max(abs(a), abs(b))


def _known(origins: Origins) -> Iterator[_Known]:
    for line in origins.card.lines:
        for text in _ON_CARD.findall(line.value):
            answer = parse(text)
            if answer is not None and answer.kind == "quantity":
                yield _Known(answer.magnitude, answer.unit, f"the card says {{}} ({line.label})")
    for title, (number, unit) in origins.own.items():
        if number not in origins.hidden:
            yield _Known(number, unit, f"your answer to “{title}” is {{}}")
    for value in origins.inputs.values():
        for number in value if isinstance(value, tuple | list) else (value,):
            if type(number) in (int, float) and number not in origins.hidden:
                yield _Known(float(number), "", "the question is about {}", shown=False)


def refined(question: Question, answer: Found, judged: Judgement, band: Band, origins: Origins) -> Judgement:
    """Return what is said of a wrong number, by the sum that led to it; ``judged`` itself where there is none.

    ``band`` is what counts, in the unit of the question. One number that is off in a right sum leaves all points but
    one (half of a single one); a known slip keeps its points, and is told to be in the step if the numbers are right.
    """
    working = _sum_of(answer)
    if working is None or question.safety or judged.points >= question.points:
        return judged
    known = list(_known(origins))
    strange = [term for term in working.terms if not any(one.stands_for(term) for one in known)]
    if judged.note and all(code in SLIPS for code in judged.note.split("+")):
        right = not any(term.unit for term in strange)
        return (
            replace(judged, says=f"{judged.says} The numbers in your sum are right; the step is not.")
            if right
            else judged
        )
    if judged.note not in ("wrong", "practice_machine"):
        return judged
    off = _one_number_off(working, _Measure.of(working, answer, question), band, known, strange)
    if off is not None:
        says, key = f"The method is right; one number is off. You used {off.used}", judged.key
        if off.shown:
            return Judgement(method_points(question), WRONG_INPUT, f"{says}; {off.right}.", key=key)
        key = f"{off.right[0].upper()}{off.right[1:]}. {key}".rstrip()
        return Judgement(method_points(question), WRONG_INPUT, f"{says}.", key=key)
    return replace(judged, says=f"{judged.says} {_what_is_off(strange)}")


def method_points(question: Question) -> float:
    """Return the points of a right method with a wrong number in it: one less than all, or half of a single one."""
    return max(question.points - 1.0, question.points / 2)


def _what_is_off(strange: list[Term]) -> str:
    for term in strange:
        if term.unit:
            return f"{_told(term.magnitude, term.unit)} in your sum is not on your card."
    return "The numbers in your sum are from your card, but you put them together the wrong way."


def _told(magnitude: float, unit: str) -> str:
    return f"{magnitude:.6g} {unit}".rstrip()


def _sum_of(answer: Found) -> Working | None:
    """Return the sum behind an answer; None if there is none, or it does not come to that answer."""
    stated = Answer("", "quantity", answer.magnitude, answer.unit, answer.figures or _CALCULATED)
    working = _sum_or_none(answer.working)
    return working if working is not None and comes_to(working, stated) else None


@dataclass(frozen=True)
class _Measure:
    """How the result of a sum is read in the unit of the question: by its own unit, or by a factor for bare numbers."""

    working: Working
    unit: str
    factor: float = 0.0

    @staticmethod
    def of(working: Working, answer: Found, question: Question) -> _Measure:
        plain = _Measure(working, question.unit)
        if plain.number(None) is not None:
            return plain
        size = working.dimensioned().size
        factor = convert(1.0, answer.unit, question.unit)
        near = min((factor, 100.0 * factor), key=lambda one: abs(one * size - answer.magnitude * factor))
        return _Measure(working, question.unit, near)

    def number(self, magnitudes: list[float] | None) -> float | None:
        """Return the result with other numbers in the sum; None if it is none, or measures something else."""
        try:
            if self.factor:
                return self.working.dimensioned(magnitudes).size * self.factor
            magnitude, unit = self.working.value(magnitudes)
        except SumError:
            return None
        return convert(magnitude, unit, self.unit) if quantity_of(unit) == quantity_of(self.unit) else None


@dataclass(frozen=True)
class _Off:
    """One number that is off: what was used, what belongs there, and whether the apprentice has that in hand."""

    used: str
    right: str
    shown: bool


def _one_number_off(
    working: Working, measure: _Measure, band: Band, known: list[_Known], strange: list[Term]
) -> _Off | None:
    """Return which one number has to be another for the sum to be right; those that are on no card come first."""
    for term in dict.fromkeys([*strange, *working.terms]):
        for one in known:
            number = one.in_unit(term.unit)
            if number is None or _same(number, term.magnitude):
                continue
            changed = [
                number if (each.magnitude, each.unit) == (term.magnitude, term.unit) else each.magnitude
                for each in working.terms
            ]
            result = measure.number(changed)
            if result is not None and result in band:
                right = _told(one.magnitude, one.unit or term.unit)
                return _Off(_told(term.magnitude, term.unit), one.says.format(right), one.shown)
    return None


def judge_differing_sum(question: Question, answer: Found, band: Band) -> Judgement | None:
    """Return the judgement of a sum with another result behind it than it comes to; None for all other answers."""
    if answer.reason != SUM_DIFFERS or question.safety:
        return None
    left, _, right = answer.typed.partition("=")
    stated, working = parse(right.strip()), _sum_or_none(" ".join(left.split()))
    if working is None or stated is None or quantity_of(stated.unit) != quantity_of(question.unit):
        return None
    found = Found("quantity", stated.magnitude, stated.unit)
    result = _Measure.of(working, found, question).number(None)
    if result is not None and result in band:
        says = f"The sum is right, but it does not come to {stated.text}: work it out again."
        key = f"{working.text} is {_told(float(f'{result:.4g}'), question.unit)}."
        return Judgement(method_points(question), ARITHMETIC, says, key=key)
    if convert(stated.magnitude, stated.unit, question.unit) in band:
        says = f"{stated.text} is right, but {working.text} does not come to it."
        return Judgement(method_points(question), SUM_DIFFERS, says)
    return Judgement(0.0, SUM_DIFFERS, f"{working.text} does not come to {stated.text}, and neither is right.")


def _sum_or_none(text: str) -> Working | None:
    """Return the sum that ``text`` spells if it can be worked out, whatever its unit; else None."""
    try:
        working = sum_in(text)
        return working if working is not None and working.dimensioned() else None
    except SumError:
        return None
