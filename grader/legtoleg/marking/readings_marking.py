"""Marking a table of readings, row by row, each inside the band that the meter leaves."""

from __future__ import annotations

from collections import Counter

from dryerbench.answers.tolerance import Band
from dryerbench.answers.units import commensurable, convert
from dryerbench.course.job_card import JobCard
from dryerbench.course.questions import Readings, Row
from dryerbench.registry import SLIPS
from legtoleg.keys.reference import Expected, ReadingsReference
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.judgements import Judgement


def judge_readings(
    question: Readings, reference: ReadingsReference[JobCard], answer: Found, card: JobCard
) -> Judgement:
    """Return the judgement of a table: a share of the points for each row that is right."""
    expected = reference.rows(card)
    wrong = {}
    for row in question.rows:
        note = _judge_row(row, expected[row.key], answer.rows.get(row.key, Found("blank")), reference)
        if note != "right":
            wrong[row] = note
    if not wrong:
        return Judgement(question.points, "right", "Right: every reading is as good as the meter.")
    share = 1 - len(wrong) / len(question.rows)
    points = min(round(question.points * share * 2) / 2, question.points - 0.5)
    lines = [f"{row.label}: {_said(note)}" for row, note in wrong.items()]
    key = " ".join(f"{row.label}: {_counts(expected[row.key], row)}" for row in wrong)
    codes = [note for note, _ in Counter(note for note in wrong.values() if note in SLIPS).most_common()]
    return Judgement(points, "+".join(codes) or "wrong", " ".join(lines), key=key)


def _said(note: str) -> str:
    if note in SLIPS:
        return SLIPS[note].says
    return {"blank": "No reading.", "other_quantity": "Another quantity."}.get(note, "Off.")


def _counts(expected: Expected, row: Row) -> str:
    if expected.over_limit:
        return "OL counts."
    return f"From {expected.low:.4g} to {expected.high:.4g} {row.unit} counts."


def _judge_row(row: Row, expected: Expected, answer: Found, reference: ReadingsReference[JobCard]) -> str:
    if answer.state == "over_limit":
        return "right" if expected.over_limit else reference.over_limit_slip or "wrong"
    if not answer.answered:
        return answer.state
    if not commensurable(answer.unit, row.unit):
        return "other_quantity"
    number = convert(answer.magnitude, answer.unit, row.unit)
    if expected.over_limit:
        return reference.number_slip or "wrong"
    if number in Band(expected.low, expected.high):
        return "right"
    return _slip(number, expected)


def _slip(number: float, expected: Expected) -> str:
    half = (expected.high - expected.low) / 2
    for code, value in (expected.slips or {}).items():
        if abs(number - value) <= half:
            return code
    for factor in (1000.0, 0.001):
        if number * factor in Band(expected.low, expected.high):
            return "kilo"
    return "wrong"
