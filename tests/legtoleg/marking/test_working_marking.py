"""Marking by the working: the step that is off is named, and a right way with one wrong number earns its points."""

from __future__ import annotations

from dataclasses import replace

import pytest

from dryerbench.answers.parser import read
from dryerbench.answers.tolerance import Band
from dryerbench.core.errors import UnreadableAnswerError
from dryerbench.course.questions import Question
from dryerbench.notebook.answer_record import answer_record, unread_record
from dryerbench.registry import sheet
from legtoleg.keys.answer_key import quantities, worked
from legtoleg.marking.answer_parsing import Found, read_record
from legtoleg.marking.judgements import Judgement
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome
from legtoleg.marking.working_marking import Origins, method_points, refined

LESSON = "03_heater_power"
PAPER = sheet(LESSON)
CARD = PAPER.card("demo-01")
VOLTS, (FIRST, SECOND, THIRD) = CARD.supply_volts, CARD.element_ohms
RIGHT = worked(LESSON, CARD)


def handed_in(name: str, typed: str) -> Found:
    try:
        record = answer_record(name, "demo-01", read(typed))
    except UnreadableAnswerError as error:
        record = unread_record(name, "demo-01", typed, error)
    return read_record(record, name)


def marked(name: str, typed: str, **earlier: str) -> Outcome:
    found = {one: handed_in(one, text) for one, text in {**earlier, name: typed}.items()}
    return mark_lesson(LESSON, "demo-01", found)[name]


def test_a_right_sum_is_full_marks_and_is_shown() -> None:
    outcome = marked("element_current", f"{VOLTS} V / {FIRST} ohm")
    assert (outcome.note, outcome.points) == ("right", 2)
    assert outcome.answer == f"{RIGHT['element_current']:.6g} A, from {VOLTS} V / {FIRST} ohm"


@pytest.mark.parametrize(
    ("name", "typed", "said"),
    [
        ("element_current", f"208 V / {FIRST} ohm", f"You used 208 V; the card says {VOLTS:g} V (Supply, leg to leg)."),
        ("element_current", f"{VOLTS} V / {SECOND} ohm", f"You used {SECOND} Ω; the card says {FIRST} Ω (Coil 1"),
        ("element_current", f"{VOLTS - 7}/{FIRST} = {(VOLTS - 7) / FIRST:.2f} A", f"You used {VOLTS - 7:g}; the card"),
        ("element_power", f"208 V * 208 V / {FIRST} ohm", "You used 208 V; the card says"),
        ("sag_share", f"({CARD.sag_volts} V / 208 V)^2", "You used 208 V; the card says"),
        ("run_drop", f"2 * 77 ft / 1000 ft * 1.21 ohm * {RIGHT['heater_current']:.3f} A", "You used 77 ft; the card"),
        ("power_at_208", f"(220 V / {VOLTS} V)^2 * {RIGHT['heater_power']:.1f} W", "the question is about 208 V."),
    ],
)
def test_one_number_off_is_named_and_costs_one_point(name: str, typed: str, said: str) -> None:
    outcome = marked(name, typed)
    assert outcome.note == "wrong_input"
    shown = "is about" not in said  # what stands on no card is part of the key
    assert (said.lower() in outcome.message.lower()) == shown
    assert said.lower() in outcome.said(signed=True).lower()
    assert outcome.points == outcome.max_points - 1


def test_an_own_earlier_answer_is_named_by_its_title() -> None:
    own = f"{RIGHT['heater_current']:.1f} A"
    outcome = marked("circuit_share", "17.3 A / 30 A", heater_current=own)
    assert outcome.note == "wrong_input"
    assert f"your answer to “Line current of the whole heater” is {own}" in outcome.message


def test_the_right_number_of_another_question_is_never_told() -> None:
    outcome = marked("circuit_share", "17.3 A / 30 A")
    assert outcome.note == "wrong"
    assert f"{RIGHT['heater_current']:.3g}" not in outcome.message
    assert "17.3 A in your sum is not on your card." in outcome.message


def test_a_known_slip_keeps_its_points_and_is_told_to_be_in_the_step() -> None:
    outcome = marked("element_current", f"{VOLTS} V / 2 / {FIRST} ohm")
    assert (outcome.note, outcome.points) == ("one_leg", 0)
    assert "The numbers in your sum are right; the step is not." in outcome.message
    outcome = marked("element_current", f"{VOLTS / 2} V / {FIRST} ohm")
    assert (outcome.note, outcome.points) == ("one_leg", 0)
    assert "The numbers in your sum are right" not in outcome.message


def test_right_numbers_joined_wrongly_earn_nothing() -> None:
    outcome = marked("element_current", f"{VOLTS} V / {FIRST} ohm * 2")
    assert (outcome.note, outcome.points) == ("wrong", 0)
    assert "put them together the wrong way" in outcome.message


def test_a_slip_of_the_arithmetic_leaves_all_points_but_one() -> None:
    outcome = marked("element_current", f"{VOLTS} V / {FIRST} ohm = 1.23 A")
    assert (outcome.note, outcome.points) == ("arithmetic_slip", 1)
    number = f"{RIGHT['element_current']:.4g}"
    assert number[:-1] not in outcome.said(signed=False)
    assert f"is {number} A." in outcome.said(signed=True)
    outcome = marked("element_current", f"{VOLTS}/{FIRST} = 1.23 A")
    assert (outcome.note, outcome.points) == ("arithmetic_slip", 1)
    outcome = marked("element_current", f"999 V / {FIRST} ohm = {RIGHT['element_current']:.2f} A")
    assert (outcome.note, outcome.points) == ("sum_differs", 1)
    outcome = marked("element_current", f"999 V / {FIRST} ohm = 1.23 A")
    assert (outcome.note, outcome.points) == ("sum_differs", 0)
    outcome = marked("element_current", f"{VOLTS} V / {FIRST} ohm = 1.23 W")
    assert (outcome.note, outcome.points) == ("unreadable", 0)


def test_a_safety_question_gets_nothing_by_its_working() -> None:
    outcome = marked("control_off_volts", "208 V / 2")
    assert (outcome.note, outcome.points, outcome.safety) == ("figures_off", 3.0, "clear")  # the idea is right
    assert "card says" not in outcome.message
    outcome = marked("control_off_volts", f"{VOLTS} V / 2 = 12 V")
    assert (outcome.note, outcome.points, outcome.safety) == ("unreadable", 0, "held")


@pytest.mark.parametrize("reference", quantities(LESSON), ids=lambda one: one.question)
@pytest.mark.parametrize("share", [0.3, 0.7, 0.9, 1.5, 3.0])
def test_never_more_than_full_nor_full_for_a_wrong_number(reference, share: float) -> None:
    question = PAPER.question(reference.question)
    number = RIGHT[question.name] * share
    unit = question.unit
    for typed in (f"{number:.6f} {unit} * 1", f"{number / 2:.6f} {unit} + {number / 2:.6f} {unit}"):
        outcome = marked(question.name, typed)
        assert 0 <= outcome.points < outcome.max_points, (typed, outcome)
        assert not (question.safety and outcome.points) or outcome.note == "figures_off", (typed, outcome)


@pytest.mark.parametrize(
    "working", ["((((", "9**9**9**9", "__import__('os')", "1 A / 0 * 2", "\N{REPLACEMENT CHARACTER}" * 200]
)
def test_a_forged_working_changes_nothing(working: str) -> None:
    plain = Found("quantity", 3.3, "A", 2, "3.3 A")
    forged = Found("quantity", 3.3, "A", 2, "3.3 A", working=working)
    one, other = (mark_lesson(LESSON, "demo-01", {"element_current": f})["element_current"] for f in (plain, forged))
    assert (one.points, one.note) == (other.points, other.note)


QUESTION = PAPER.question("element_current")
assert isinstance(QUESTION, Question)
NOWHERE = Origins(CARD, {}, {})


@pytest.mark.parametrize(("note", "told"), [("one_leg", True), ("one_leg+kilo", True), ("one_leg+wrong", False)])
def test_it_is_said_of_known_slips_alone_that_the_step_is_off(note: str, told: bool) -> None:
    answer = Found("quantity", VOLTS / 2 / FIRST, "A", None, "x", working=f"{VOLTS} V / 2 / {FIRST} ohm")
    judged = refined(QUESTION, answer, Judgement(0.0, note, "So."), Band(8.0, 9.0), NOWHERE)
    assert ("the step is not" in judged.says) == told


def test_a_sum_that_comes_to_its_answer_to_six_figures_is_its_working() -> None:
    """What stands in a record was worked out from the sum: it comes to it, or somebody wrote the record."""
    working = f"{VOLTS:.9f} V / 2 / {FIRST:.9f} ohm"
    for share, told in ((1.0, True), (1.0 + 1e-6, True), (1.0 + 2e-5, False), (1.001, False)):
        answer = Found("quantity", share * VOLTS / 2 / FIRST, "A", None, "x", working=working)
        judged = refined(QUESTION, answer, Judgement(0.0, "one_leg", "So."), Band(8.0, 9.0), NOWHERE)
        assert ("the step is not" in judged.says) == told, share


@pytest.mark.parametrize(("points", "left"), [(1, 0.5), (2, 1.0), (3, 2.0), (8, 7.0)])
def test_the_points_of_a_method_with_a_wrong_number_in_it(points: int, left: float) -> None:
    assert method_points(replace(QUESTION, points=points)) == left
