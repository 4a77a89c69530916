"""No key in feedback: pages of wrong, held and half-right hand-ins say no right value, letter or option."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from typing import Any

import pytest

from dryerbench.answers.parser import read
from dryerbench.answers.tolerance import rounded
from dryerbench.answers.units import UNITS, commensurable, convert
from dryerbench.core.errors import UnreadableAnswerError
from dryerbench.course.questions import AnyQuestion, Lettered, Order, Question
from dryerbench.notebook.answer_record import answer_record, unread_record
from dryerbench.registry import SHEETS, sheet
from legtoleg.cohort.feedback_page import page
from legtoleg.cohort.nbgrader_steps import outcome_html
from legtoleg.demo.simulated_letters import an_order, letters_of
from legtoleg.keys.answer_key import references, worked
from legtoleg.keys.reference import (
    AnyReference,
    ChoiceReference,
    FaultReference,
    OrderReference,
    ReadingsReference,
    Reference,
)
from legtoleg.marking.answer_parsing import Found, read_record
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome, signed_off

IDS = [f"anyone-{n}" for n in range(40)]
OF_FORMULAS = {("hot_ohms", "32"), ("on_share", "100"), ("duct_left", "90")}
"""Constants of a formula or a name (°F to °C, percent, a 90° elbow) that some machine's answer happens to look like."""
UNSAFE = ({"act": "cover_off", "with": {}},)


def wrong_numbers(question: Question, reference: Reference, card: Any, right: dict[str, float]) -> list[Found]:
    values = [right[question.name] * 1.37, right[question.name] * 1.004 + 1.0, 0.0]
    values += reference.task.slip_values(reference.numbers(card, right)).values()
    return [Found("quantity", value, question.unit, 4) for value in values] + [Found("over_limit", typed="OL")]


def sums(question: Question, right: float) -> list[Found]:
    """Return sums that are right and come to something else, that are off by one number, that are joined wrongly."""
    unit, half = question.unit, f"{2 * right:.6g} {question.unit} / 2"
    texts = [f"{half} = 1.23 {unit}", f"{2.2 * right:.6g} {unit} / 2", f"({half}) * 3", f"1.1 * {half}"]
    found = []
    for text in texts:
        try:
            record = answer_record(question.name, "x", read(text))
        except UnreadableAnswerError as error:
            record = unread_record(question.name, "x", text, error)
        found.append(read_record(record, question.name))
    return found


def without_the_answer(text: str, answer: Found) -> str:
    """Return ``text`` without what the apprentice typed, which it may repeat."""
    left, _, stated = answer.typed.partition("=")
    for own in (answer.typed, answer.working, left.strip(), stated.strip()):
        text = text.replace(own, "") if own else text
    return text


def wrong_letters(question: Lettered, reference: AnyReference, card: Any) -> list[Found]:
    keys = [option.key for option in question.options_for(card)]
    if isinstance(reference, OrderReference):
        assert isinstance(question, Order)
        right = an_order(question, reference, card)
        given = [right[::-1], [right[1], right[0], *right[2:]], [*right[:-2], right[-1], right[-2]], right[:3]]
    elif question.kind == "choices":
        assert isinstance(reference, ChoiceReference)
        fits = sorted(reference.right(card))
        wrong = [key for key in keys if key not in fits]
        given = [wrong, fits[:1], fits[:-1], [*fits, *wrong[:1]], [*fits[:1], *wrong[:1]]]
    else:
        assert isinstance(reference, ChoiceReference | FaultReference)
        given = [[key] for key in keys if key not in reference.right(card)]
        given += [[key] for key in reference.right(card)] if question.kind == "fault" else []
    state = "fault" if question.kind == "fault" else "letters"
    acts = ({"act": "unplug", "with": {}},) if state == "fault" else ()
    return [Found(state, letters=letters_of(question, card, one).replace(" ", ""), acts=acts) for one in given if one]


def wrong_answers(question: AnyQuestion, reference: AnyReference, card: Any, right: dict[str, float]) -> list[Found]:
    """Return answers that are wrong, dangerous or half right."""
    if isinstance(question, Question) and isinstance(reference, Reference):
        return wrong_numbers(question, reference, card, right)
    if isinstance(question, Lettered):
        return wrong_letters(question, reference, card)
    if isinstance(reference, ReadingsReference):
        rows = reference.rows(card)
        far = {key: Found("quantity", (row.high or 1.0) * 1.7 + 5, "Ω") for key, row in rows.items()}
        some = {key: row for place, (key, row) in enumerate(far.items()) if place % 2}
        units = {row.key: row.unit for row in question.rows}  # type: ignore[union-attr]
        in_units = {key: Found("quantity", row.magnitude, units[key]) for key, row in far.items()}
        return [Found("readings", rows=one) for one in (in_units, some, dict.fromkeys(rows, Found("over_limit")))]
    return [Found("work", acts=UNSAFE), Found("work", acts=({"act": "unplug", "with": {}},))]


def hand_ins(lesson: str, card: Any) -> Iterator[dict[str, Found]]:
    """Yield hand-ins in which everything is wrong, each in another way."""
    right = worked(lesson, card)
    ways = {one.question: wrong_answers(sheet(lesson).question(one.question), one, card, right)
            for one in references(lesson)}  # fmt: skip
    for turn in range(max(map(len, ways.values()))):
        yield {name: found[turn % len(found)] for name, found in ways.items()}


def numbers_of(value: float, question: Question) -> set[str]:
    units = [unit.symbol for unit in UNITS if commensurable(unit.symbol, question.unit)]
    found = set()
    for unit in units:
        there = convert(value, question.unit, unit)
        found |= {rounded(there, question.figures), f"{float(rounded(there, question.figures)):g}"}
    return {text for text in found if float(text) != 0.0}


def keys_said(text: str, question: AnyQuestion, reference: AnyReference, card: Any, right: dict[str, float]) -> str:
    """Return what ``text`` gives away of the right answer; nothing, as it should be."""
    if isinstance(question, Question):
        with_units = re.findall(r"(?<![\w.,])(\d[\d.]*\d|\d)(?: ?)([A-Za-z°%Ω/²³]*)", text)
        said = {number for number, _ in with_units}
        said -= {number for name, number in OF_FORMULAS if name == question.name}
        return ", ".join(said & numbers_of(right[question.name], question))
    if isinstance(reference, ReadingsReference):
        bounds = {f"{bound:.4g}" for row in reference.rows(card).values() for bound in (row.low, row.high) if bound}
        return ", ".join(set(re.findall(r"\d+\.\d+", text)) & bounds) or ("counts" if " counts." in text else "")
    if isinstance(question, Lettered) and isinstance(reference, ChoiceReference | FaultReference):
        fits = reference.right(card)
        texts = [option.text.rstrip(".") for option in question.options_for(card) if option.key in fits]
        letters = {letter for letter, option in question.lettered(card).items() if option.key in fits}
        groups = re.findall(r"(?<!\w)((?:[a-l], )*[a-l])(?:: | \()", text)
        named = {one for group in groups for one in group.split(", ")}
        return "; ".join([one for one in texts if one.lower() in text.lower()] + sorted(named & letters))
    return ""


@pytest.mark.parametrize(
    "lesson", [one for one in SHEETS if any(isinstance(q, Question) for q in SHEETS[one].questions)]
)
def test_what_is_said_of_a_sum_gives_nothing_away(lesson: str) -> None:
    paper, seen = sheet(lesson), set()
    for apprentice in IDS[:10]:
        card = paper.card(apprentice)
        right, by_name = worked(lesson, card), {one.question: one for one in references(lesson)}
        for question in [one for one in paper.questions if isinstance(one, Question)]:
            for answer in sums(question, right[question.name]):
                outcome = mark_lesson(lesson, apprentice, {question.name: answer})[question.name]
                seen.add(outcome.note)
                text = without_the_answer(outcome.said(signed=False), answer)
                assert not keys_said(text, question, by_name[question.name], card, right), (answer, text)
    assert "arithmetic_slip" in seen


@pytest.mark.parametrize("lesson", sorted(SHEETS))
def test_feedback_gives_nothing_away(lesson: str) -> None:
    paper, found = sheet(lesson), {}
    for apprentice in IDS:
        card = paper.card(apprentice)
        right, by_name = worked(lesson, card), {one.question: one for one in references(lesson)}
        for answers in hand_ins(lesson, card):
            outcomes = list(mark_lesson(lesson, apprentice, answers).values())
            assert not signed_off(outcomes)
            for one in outcomes:
                text = " ".join([one.said(signed=False), *one.work_words(signed=False)])
                question = paper.question(one.question)
                if gives := keys_said(text, question, by_name[one.question], card, right):
                    found.setdefault((one.question, one.note), (gives, text, apprentice))
                assert not (question.safety and one.key)
    assert not found, "\n".join(f"{key}: {value}" for key, value in found.items())


def test_page_and_marked_notebook_hold_the_key_back_until_signed_off() -> None:
    lesson = "03_heater_power"
    paper = sheet(lesson)
    rows = [Outcome(q.name, q.points, q.points, "right", "Right.", "a", "clear" * q.safety) for q in paper.questions]
    slip = Outcome(paper.questions[0].name, 0.0, 2.0, "one_leg", "One leg.", "4 A", "", None, "8.8 to 8.9 A counts.")
    signed = [slip, *rows[1:]]
    held = [slip, *rows[1:-1], Outcome(rows[-1].question, 0.0, 3.0, "n", "M", "b", "held")]
    assert "8.8 to 8.9 A counts." in html.unescape(page(lesson, "demo-01", "One", signed))
    assert "8.8" not in page(lesson, "demo-01", "One", held)
    assert "8.8" in outcome_html(slip, signed=True)
    assert "8.8" not in outcome_html(slip, signed=False)
