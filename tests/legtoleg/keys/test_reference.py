"""The reference answers of every lesson: each slip is named on 100 machines or its ambiguity is stated here."""

from __future__ import annotations

from collections import defaultdict
from typing import Any

import pytest

from dryerbench.answers.parser import read
from dryerbench.answers.tolerance import rounded
from dryerbench.course.questions import Choice, Choices, Order, Question
from dryerbench.registry import SHEETS, SLIPS, sheet
from legtoleg.demo.simulated_letters import an_order, letters_of
from legtoleg.keys.answer_key import quantities, references, worked
from legtoleg.keys.reference import ChoiceReference, OrderReference
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome, signed_off
from legtoleg.marking.quantity_marking import QuantityContext, judge_quantity

IDS = [f"someone-{n}" for n in range(200)]

AMBIGUOUS: dict[str, dict[str, int]] = {
    # 237 V to two figures are 240 V: typed so, nobody can tell which of the two it is.
    "02_two_legs": {"nominal_volts is right": 110},
    # 30 A is right on 10 AWG: there, and only there, the slip cannot show.
    "03_heater_power": {
        "dryer_is_thirty is right": 80,
        # At 1022 °F the two factors are 1.0155 and 1.022: on a drifted element two units of the last figure apart.
        "fahrenheit_for_celsius is right": 7,
    },
    # At 6.2 MΩ the meter's share and path over meter are both 0.62 (x and 1 / (1 + x) meet at 0.618).
    "04_trusting_the_meter": {"path_over_meter is right": 12},
    # At a drop near 1 V, multiplying by it and dividing by it are the same.
    "06_heat_switches": {"amps_over_drop+drop_times_amps": 20},
    # Where the air leaves at about 1.5 times the room's temperature, the two come out alike.
    "08_air_and_drying": {
        "room_left_out+watts_for_btu": 16,
        # Where the heater is on for half of the time, both shares come out alike.
        "off_share is right": 1,
    },
    # Where the drive one way takes as long as finding and proving, leaving out either comes to the same.
    # one of two like coils takes as many amps as both on one leg
    "10_call_to_close": {"one_way_drive+finding_is_free": 3, "one_leg+one_element": 75},
}
"""Slips of a lesson that cannot be told from an honest way or another slip, and on how many of the 200 machines at
most; nowhere else may that be."""


def mark(lesson: str, apprentice: str, name: str, found: Found) -> Outcome:
    return mark_lesson(lesson, apprentice, {name: found})[name]


def lettered(lesson: str, card: Any, name: str, keys: list[str]) -> Found:
    typed = letters_of(sheet(lesson).question(name), card, keys).replace(" ", "")
    return Found("letters", typed=typed, letters=typed)


def as_typed(value: float, question: Question) -> Found:
    """Return ``value`` as somebody types it who rounds as asked."""
    answer = read(f"{rounded(value, question.figures)} {question.unit}")
    return Found("quantity", answer.magnitude, answer.unit, answer.figures, answer.typed)


@pytest.mark.parametrize("lesson", SHEETS)
def test_every_slip_of_a_quantity_is_named(lesson: str) -> None:
    doubtful: dict[str, set[str]] = defaultdict(set)
    for apprentice in IDS:
        card = sheet(lesson).card(apprentice)
        right = worked(lesson, card)
        for reference in quantities(lesson):
            question = sheet(lesson).question(reference.question)
            assert isinstance(question, Question)
            for code, value in reference.task.slip_values(reference.numbers(card, right)).items():
                for found in (Found("quantity", value, question.unit), as_typed(value, question)):
                    desk = QuantityContext(lesson, card, right, dict(right), {}, set(right))
                    judged = judge_quantity(question, reference, found, desk)
                    if judged.note == "right":
                        doubtful[f"{code} is right"].add(apprentice)
                        continue
                    assert code in judged.note.split("+"), (apprentice, question.name, code, judged.note)
                    assert (judged.points, judged.safe) == (0, False if question.safety else None)
                    assert SLIPS[code].says in judged.says
                    doubtful[judged.note] |= {apprentice} if "+" in judged.note else set()
    allowed = AMBIGUOUS.get(lesson, {})
    counts = {note: len(machines) for note, machines in doubtful.items()}
    assert {note: count for note, count in counts.items() if count > allowed.get(note, 0)} == {}


@pytest.mark.parametrize("lesson", SHEETS)
def test_every_wrong_letter_and_every_letter_left_out_is_named(lesson: str) -> None:
    paper = sheet(lesson)
    for apprentice in IDS:  # the outer loop: a card is drawn once while it is worked on
        card = paper.card(apprentice)
        for reference in references(lesson):
            if isinstance(reference, ChoiceReference):
                every_wrong_letter_is_named(lesson, apprentice, card, reference)


def every_wrong_letter_is_named(lesson: str, apprentice: str, card: Any, reference: ChoiceReference[Any]) -> None:
    question = sheet(lesson).question(reference.question)
    assert isinstance(question, Choice | Choices)
    right = reference.right(card)
    for key in [option.key for option in question.options_for(card)]:
        keys = [key] if isinstance(question, Choice) else sorted(right ^ {key})
        if (key in right and isinstance(question, Choice)) or not keys:
            continue
        outcome = mark(lesson, apprentice, question.name, lettered(lesson, card, question.name, keys))
        code = reference.slips_on(card)[key]
        assert outcome.note == code, (apprentice, question.name, key, outcome.note)
        assert outcome.points < outcome.max_points
        harmless = key in reference.harmless(card)  # which are: a list of its own, in test_safety_letters
        assert outcome.safety == (("clear" if harmless else "held") if question.safety else "")
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
