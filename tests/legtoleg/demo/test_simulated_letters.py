"""Letters of simulated apprentices: an order that keeps all rules, and one slip that the marker names."""

from __future__ import annotations

import pytest

from dryerbench.core.random_stream import Stream
from dryerbench.course.questions import Order
from dryerbench.registry import SHEETS, sheet
from legtoleg.demo.simulated_letters import an_order, letters_of, slip_in_letters
from legtoleg.keys.answer_key import references
from legtoleg.keys.reference import ChoiceReference, OrderReference
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.letters_marking import judge_choice, judge_choices, judge_order

JUDGES = {"choice": judge_choice, "choices": judge_choices, "order": judge_order}
LETTERED = [
    (lesson, reference)
    for lesson in SHEETS
    for reference in references(lesson)
    if isinstance(reference, ChoiceReference | OrderReference)
]


def found(letters: str) -> Found:
    return Found("letters", letters=letters.replace(" ", ""))


@pytest.mark.parametrize(("lesson", "reference"), LETTERED, ids=lambda one: getattr(one, "question", one))
def test_a_slip_earns_nothing_under_its_own_name(lesson: str, reference: ChoiceReference | OrderReference) -> None:
    question, card = sheet(lesson).question(reference.question), sheet(lesson).card("demo-01")
    slipped = slip_in_letters(question, reference, card, Stream("a test"))
    if slipped is None:
        assert isinstance(reference, OrderReference)
        assert not [rule for rule in reference.rules if rule.unsafe]
        return
    letters, code = slipped
    judged = JUDGES[question.kind](question, reference, found(letters), card)
    assert judged.points == 0
    assert code in judged.note.split("+")


ORDERS = [(lesson, one) for lesson, one in LETTERED if isinstance(one, OrderReference)]


@pytest.mark.parametrize(("lesson", "reference"), ORDERS, ids=lambda one: getattr(one, "question", one))
def test_an_order_keeps_all_rules(lesson: str, reference: OrderReference) -> None:
    question, card = sheet(lesson).question(reference.question), sheet(lesson).card("demo-01")
    assert isinstance(question, Order)
    letters = letters_of(question, card, an_order(question, reference, card))
    assert judge_order(question, reference, found(letters), card).points == question.points
