"""Marking a lesson: every question has an outcome, whatever was handed in, in the order of the lesson."""

from __future__ import annotations

import pytest

from dryerbench.answers.tolerance import rounded
from dryerbench.core.errors import UnknownQuestionError
from dryerbench.course.questions import Choice, Readings
from dryerbench.registry import sheet
from legtoleg.keys.answer_key import worked
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome

LESSON = "03_heater_power"
PAPER = sheet(LESSON)
SAFETY = next(question for question in PAPER.questions if question.safety)
ORDINARY = next(question for question in PAPER.questions if not question.safety)


def marked(**found: Found) -> dict[str, Outcome]:
    return mark_lesson(LESSON, "demo-01", found)


def test_every_question_has_an_outcome_in_the_lessons_order() -> None:
    outcomes = marked()
    assert list(outcomes) == [question.name for question in PAPER.questions]
    assert {outcome.note for outcome in outcomes.values()} == {"no_record"}
    assert sum(outcome.points for outcome in outcomes.values()) == 0


@pytest.mark.parametrize(
    ("state", "note", "safety"),
    [
        ("blank", "blank", "open"),
        ("kernel_died", "kernel_died", "open"),
        ("python_error", "python_error", "held"),
        ("two_records", "two_records", "held"),
        ("letters", "bad_record", "held"),
        ("never heard of", "bad_record", "held"),
    ],
)
def test_no_answer_earns_nothing_and_says_why(state: str, note: str, safety: str) -> None:
    outcome = marked(**{SAFETY.name: Found(state, typed="x")})[SAFETY.name]
    assert (outcome.points, outcome.note, outcome.safety) == (0.0, note, safety)
    assert outcome.message.endswith("not signed off until it is right.")
    assert "safety" not in marked(**{ORDINARY.name: Found(state)})[ORDINARY.name].message


def test_a_right_number_earns_its_points_and_is_shown_as_read() -> None:
    number = worked(LESSON, PAPER.card("demo-01"))[SAFETY.name]
    found = Found("quantity", float(rounded(number, SAFETY.figures)), SAFETY.unit, SAFETY.figures)
    outcome = marked(**{SAFETY.name: found})[SAFETY.name]
    assert (outcome.full, outcome.note, outcome.safety) == (True, "right", "clear")
    assert outcome.answer == f"{found.magnitude:.6g} {SAFETY.unit}"


def test_a_lesson_that_is_not_ours_is_refused() -> None:
    with pytest.raises(UnknownQuestionError, match="There is no lesson"):
        mark_lesson("99_none", "demo-01", {})


def test_a_letter_is_shown_with_its_words_and_a_strange_one_alone() -> None:
    lesson = "05_path_to_case"
    choice = next(question for question in sheet(lesson).questions if isinstance(question, Choice))
    letter, option = next(iter(choice.lettered(sheet(lesson).card("demo-01")).items()))
    shown = mark_lesson(lesson, "demo-01", {choice.name: Found("letters", typed=letter, letters=letter)})
    assert shown[choice.name].answer == f"{letter} ({option.text.rstrip('.')})"
    strange = mark_lesson(lesson, "demo-01", {choice.name: Found("letters", typed="z", letters="z")})
    assert strange[choice.name].answer == "z"


def test_a_sum_is_shown_with_its_number_and_a_table_row_by_row() -> None:
    name = ORDINARY.name
    found = Found("quantity", 9.0, "A", 2, "9.0 A", working="240 V / 26.7 ohm")
    assert marked(**{name: found})[name].answer == "9 A, from 240 V / 26.7 ohm"
    lesson = "05_path_to_case"
    table = next(question for question in sheet(lesson).questions if isinstance(question, Readings))
    keys = [row.key for row in table.rows][:3]
    answers = (Found("quantity", 27.0, "Ω", 3), Found("over_limit", typed="OL"), Found("blank"))
    rows = Found("readings", rows=dict(zip(keys, answers, strict=True)))
    assert mark_lesson(lesson, "demo-01", {table.name: rows})[table.name].answer == "27 Ω; OL; –"
