"""Marking letters: one option, several, an order."""

from __future__ import annotations

import itertools

import pytest

from dryerbench.course.job_card import JobCard
from dryerbench.course.questions import Choice, Choices, Option, Order
from dryerbench.registry import SLIPS
from legtoleg.keys.reference import Before, ChoiceReference, OrderReference
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.letters_marking import judge_choice, judge_choices, judge_order

CARD = JobCard("demo-01", "a_lesson")
OPTIONS = tuple(Option(key, f"The option {key}.") for key in ("one", "two", "three", "four"))
CHOICE = Choice("q", "Q", 3, safety=True, options=OPTIONS)
CHOICES = Choices("q", "Q", 4, options=OPTIONS)
ORDER = Order("q", "Q", 4, safety=True, options=OPTIONS)
ONE = ChoiceReference("q", lambda _: frozenset({"two"}), {"one": "one_leg", "three": "off_means_dead"})
SEVERAL = ChoiceReference("q", lambda _: frozenset({"one", "two"}), {"three": "one_leg", "two": "kilo"})
RULES = OrderReference("q", (Before("one", "two", "off_means_dead", unsafe=True), Before("three", "four", "kilo")))


def letters(question, *keys: str) -> Found:
    by_key = {option.key: letter for letter, option in question.lettered(CARD).items()}
    return Found("letters", letters="".join(by_key[key] for key in keys))


def test_one_option() -> None:
    assert judge_choice(CHOICE, ONE, letters(CHOICE, "two"), CARD).points == 3
    slipped = judge_choice(CHOICE, ONE, letters(CHOICE, "one"), CARD)
    assert (slipped.points, slipped.note, slipped.safe) == (0, "one_leg", False)
    assert SLIPS["one_leg"].says in slipped.says
    assert "The option two" in slipped.key
    assert "The option two" not in slipped.says
    assert judge_choice(CHOICE, ONE, letters(CHOICE, "four"), CARD).note == "wrong"


def test_a_letter_that_is_not_offered_or_too_many() -> None:
    assert judge_choice(CHOICE, ONE, Found("letters", letters="z"), CARD).note == "bad_record"
    assert judge_choice(CHOICE, ONE, letters(CHOICE, "two", "one"), CARD).note == "bad_record"
    assert judge_choices(CHOICES, SEVERAL, Found("letters", letters="z"), CARD).points == 0


@pytest.mark.parametrize(
    ("keys", "points", "note"),
    [
        (("one", "two"), 4, "right"),
        (("two", "one"), 4, "right"),
        (("one",), 2, "kilo"),
        (("one", "two", "three"), 2, "one_leg"),
        (("three",), 0, "one_leg+kilo"),
        (("one", "two", "three", "four"), 0, "one_leg"),
    ],
)
def test_several_options(keys: tuple[str, ...], points: float, note: str) -> None:
    judged = judge_choices(CHOICES, SEVERAL, letters(CHOICES, *keys), CARD)
    assert (judged.points, judged.note) == (points, note)


def test_any_order_that_keeps_the_rules_is_right_and_no_other() -> None:
    for order in itertools.permutations(("one", "two", "three", "four")):
        judged = judge_order(ORDER, RULES, letters(ORDER, *order), CARD)
        safe = order.index("one") < order.index("two")
        tidy = order.index("three") < order.index("four")
        assert judged.points == (4 if safe and tidy else 2 if safe else 0)
        assert judged.safe is not False if safe else judged.safe is False
        assert judged.note == ("right" if safe and tidy else "kilo" if safe else "off_means_dead")


def test_a_step_left_out() -> None:
    judged = judge_order(ORDER, RULES, letters(ORDER, "one", "two", "three"), CARD)
    assert (judged.points, judged.note, judged.safe) == (0, "steps_missing", False)
    without_the_first = judge_order(ORDER, RULES, letters(ORDER, "two", "three", "four"), CARD)
    assert without_the_first.note == "off_means_dead"


def test_the_letters_are_dealt_to_each_apprentice() -> None:
    dealt = {tuple(o.key for o in CHOICE.lettered(JobCard(f"a{n}", "x")).values()) for n in range(40)}
    assert len(dealt) > 10
    assert all(sorted(one) == sorted(option.key for option in OPTIONS) for one in dealt)


def test_right_is_said_as_the_apprentice_saw_it_and_harmless_slips_stay_safe() -> None:
    shown = {option.key: letter for letter, option in CHOICES.lettered(CARD).items()}
    right = sorted(f"{shown[key]} (The option {key})" for key in ("one", "two"))
    assert (
        judge_choices(CHOICES, SEVERAL, letters(CHOICES, "four"), CARD).key
        == f"The right answer is {'; '.join(right)}."
    )
    plain = judge_choice(CHOICE, ONE, letters(CHOICE, "four"), CARD)
    assert (plain.points, plain.safe) == (0, False)
    assert (plain.says, plain.key) == ("Not that.", f"The right answer is {shown_in(CHOICE, 'two')} (The option two).")
    untidy = judge_order(ORDER, RULES, letters(ORDER, "one", "two", "four", "three"), CARD)
    assert (untidy.points, untidy.note, untidy.safe) == (2, "kilo", True)
    in_order = judge_order(ORDER, RULES, letters(ORDER, "one", "two", "three", "four"), CARD)
    assert (in_order.points, in_order.note) == (4, "right")
    assert "The option four." in judge_order(ORDER, RULES, letters(ORDER, "one", "two", "three"), CARD).says
    assert judge_order(ORDER, RULES, Found("letters", letters="z"), CARD).note == "bad_record"


def shown_in(question, key: str) -> str:
    return next(letter for letter, option in question.lettered(CARD).items() if option.key == key)
