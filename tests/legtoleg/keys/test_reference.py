"""The reference answers of every lesson: each slip is named on 100 machines or its ambiguity is stated here."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest

from dryerbench.course.questions import Choice, Choices, Order
from dryerbench.registry import SHEETS, SLIPS, sheet
from legtoleg.demo.simulated_letters import an_order, letters_of
from legtoleg.keys.answer_key import quantities, references, worked
from legtoleg.keys.reference import ChoiceReference, OrderReference
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome, signed_off

IDS = [f"someone-{n}" for n in range(100)]

AMBIGUOUS: dict[str, dict[str, int]] = {
    # 30 A is right on 10 AWG: there, and only there, the slip cannot show.
    "03_heater_power": {"dryer_is_thirty is right": 60},
    # At a drop near 1 V, multiplying by it and dividing by it are the same.
    "06_heat_switches": {"upside_down+drop_times_amps": 20},
    # Where the air leaves at about 1.5 times the room's temperature, the two come out alike.
    "08_air_and_drying": {"room_left_out+watts_for_btu": 4},
}
"""Slips of a lesson that lead to one number, and how often on the 100 machines at most; nowhere else may that be."""


def mark(lesson: str, apprentice: str, name: str, found: Found) -> Outcome:
    return mark_lesson(lesson, apprentice, {name: found})[name]


def lettered(lesson: str, card: Any, name: str, keys: list[str]) -> Found:
    typed = letters_of(sheet(lesson).question(name), card, keys).replace(" ", "")
    return Found("letters", typed=typed, letters=typed)


@pytest.mark.parametrize("lesson", SHEETS)
def test_every_slip_of_a_quantity_is_named(lesson: str) -> None:
    doubtful: Counter[str] = Counter()
    for apprentice in IDS:
        card = sheet(lesson).card(apprentice)
        right = worked(lesson, card)
        for reference in quantities(lesson):
            question = sheet(lesson).question(reference.question)
            for code, value in reference.task.slip_values(reference.numbers(card, right)).items():
                outcome = mark(lesson, apprentice, question.name, Found("quantity", value, question.unit))
                if outcome.note == "right":
                    doubtful[f"{code} is right"] += 1
                    continue
                assert code in outcome.note.split("+"), (apprentice, question.name, code, outcome.note)
                assert outcome.points == 0
                assert SLIPS[code].says in outcome.message
                doubtful[outcome.note] += "+" in outcome.note
    allowed = AMBIGUOUS.get(lesson, {})
    assert {note: count for note, count in doubtful.items() if count > allowed.get(note, 0)} == {}


@pytest.mark.parametrize("lesson", SHEETS)
def test_every_wrong_letter_and_every_letter_left_out_is_named(lesson: str) -> None:
    paper = sheet(lesson)
    for reference in references(lesson):
        if not isinstance(reference, ChoiceReference):
            continue
        question = paper.question(reference.question)
        assert isinstance(question, Choice | Choices)
        for apprentice in IDS:
            card = paper.card(apprentice)
            right = reference.right(card)
            for key in [option.key for option in question.options_for(card)]:
                keys = [key] if isinstance(question, Choice) else sorted(right ^ {key})
                if (key in right and isinstance(question, Choice)) or not keys:
                    continue
                outcome = mark(lesson, apprentice, question.name, lettered(lesson, card, question.name, keys))
                code = reference.slips_on(card)[key] if isinstance(reference, ChoiceReference) else reference.slips[key]
                assert outcome.note == code, (apprentice, question.name, key, outcome.note)
                assert outcome.points < outcome.max_points
                assert outcome.safety == ("held" if question.safety else "")
                assert SLIPS[code].says in outcome.message


@pytest.mark.parametrize("lesson", SHEETS)
def test_every_broken_rule_of_an_order_is_named_and_every_unsafe_one_held(lesson: str) -> None:
    paper = sheet(lesson)
    for reference in references(lesson):
        if not isinstance(reference, OrderReference):
            continue
        question = paper.question(reference.question)
        assert isinstance(question, Order)
        for apprentice in IDS[:40]:
            card = paper.card(apprentice)
            order = an_order(question, reference, card)
            full = mark(lesson, apprentice, question.name, lettered(lesson, card, question.name, order))
            assert (full.note, full.points) == ("right", full.max_points)
            for rule in reference.rules:
                early = [key for key in order if key != rule.then]
                early.insert(early.index(rule.first), rule.then)
                outcome = mark(lesson, apprentice, question.name, lettered(lesson, card, question.name, early))
                broken = [one for one in reference.rules if early.index(one.first) > early.index(one.then)]
                unsafe = {one.slip for one in broken if one.unsafe}
                assert rule in broken
                assert set(outcome.note.split("+")) == (unsafe or {one.slip for one in broken})
                assert (outcome.safety == "held", outcome.points == 0) == (bool(unsafe), bool(unsafe))
                assert outcome.points < outcome.max_points


@pytest.mark.parametrize("lesson", SHEETS)
def test_nothing_handed_in_is_nothing_earned(lesson: str) -> None:
    marks = list(mark_lesson(lesson, IDS[0], {}).values())
    assert sum(one.points for one in marks) == 0
    assert not signed_off(marks)
