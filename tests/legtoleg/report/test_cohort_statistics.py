"""A cohort in numbers: where people stand, what went wrong most, who is late, who is not on the roster."""

from __future__ import annotations

import pytest

from dryerbench.registry import sheet
from legtoleg.cohort.marks import Mark
from legtoleg.marking.outcomes import Outcome
from legtoleg.report.cohort_statistics import HELD, MISSING, NOT_YET, SIGNED, cohort_numbers, lesson_numbers, state_of

LESSON = "03_heater_power"
PAPER = sheet(LESSON)


def row(note: str = "right", share: float = 1.0, safety: str = "clear") -> list[Outcome]:
    return [
        Outcome(q.name, share * q.points, q.points, note, "M", "", safety if q.safety else "") for q in PAPER.questions
    ]


@pytest.mark.parametrize(
    ("outcomes", "state"),
    [
        ([], MISSING),
        (row(), SIGNED),
        (row(share=0.5), NOT_YET),
        (row(safety="held"), HELD),
        (row(safety="open"), NOT_YET),
    ],
)
def test_where_somebody_stands(outcomes: list[Outcome], state: str) -> None:
    assert state_of(outcomes) == state


def test_what_went_wrong_most_comes_first() -> None:
    people = {"a": row("blank", 0.0), "b": row("one_leg", 0.0), "c": row("one_leg", 0.0), "d": row()}
    found = lesson_numbers(LESSON, people)
    assert found.questions[0].wrong == [("one_leg", 2), ("blank", 1)]
    assert found.slips == [("one_leg", 2 * len(PAPER.questions))]
    assert (found.count(SIGNED), found.few, found.questions[0].item.difficulty) == (1, True, 0.25)
    assert found.questions[0].bench is None


def test_names_late_days_and_strangers() -> None:
    marks = [Mark(who, LESSON, outcome) for who in ("b", "x") for outcome in row()]
    found = cohort_numbers(marks, {"b": "Bo", "a": "Ada"}, {("b", LESSON): 43_200.0, ("x", LESSON): 0.0})
    assert found.names == {"a": "Ada", "b": "Bo", "x": "not on the roster"}
    assert found.late == {("b", LESSON): 0.5}
    assert [found.state(who, found.lessons[0]) for who in found.names] == [MISSING, SIGNED, SIGNED]
    assert cohort_numbers(marks, {}).names == {"b": "b", "x": "x"}
