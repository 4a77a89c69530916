"""A cohort in numbers: where people stand, what went wrong most, who is late, who is not on the roster."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from dryerbench.registry import SHEETS, sheet
from legtoleg.cohort.marks import Mark
from legtoleg.intake.roster import Person
from legtoleg.marking.outcomes import Outcome
from legtoleg.report.call_closing import calls
from legtoleg.report.cohort_statistics import (
    CAME,
    HELD,
    MISSING,
    NOT_YET,
    OUT,
    READY,
    SIGNED,
    WAITING,
    cohort_numbers,
    lesson_numbers,
    state_of,
)
from legtoleg.report.hand_in_fates import NEW, Fates

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
    assert (found.few, found.questions[0].item.difficulty) == (True, 0.25)
    assert found.questions[0].bench is None


def test_names_late_days_and_strangers() -> None:
    marks = [Mark(who, LESSON, outcome) for who in ("b", "x") for outcome in row()]
    people = [Person("b", "Bo"), Person("a", "Ada")]
    found = cohort_numbers(marks, people, late={("b", LESSON): 43_200.0, ("x", LESSON): 0.0})
    assert {who: found.name(who) for who in found.people} == {"a": "Ada", "b": "Bo", "x": "not on the roster"}
    assert (found.late, found.away) == ({("b", LESSON): 0.5}, {"x"})
    assert [found.state(who, found.lessons[0]) for who in found.people] == [MISSING, SIGNED, SIGNED]
    assert cohort_numbers(marks).here == ["b", "x"]


def test_came_and_waiting_are_states_of_their_own_and_signed_off_stays() -> None:
    marks = [Mark("b", LESSON, outcome) for outcome in row()] + [Mark("h", LESSON, one) for one in row(safety="held")]
    people = [Person(who, who) for who in "abh"]
    unmarked = dict.fromkeys([("a", LESSON), ("b", LESSON), ("h", LESSON)], NEW)
    fates = Fates(unmarked, {("a", LESSON): "x.pdf cannot be read"})
    found = replace(cohort_numbers(marks, people), fates=fates)
    assert [found.state(who, found.lessons[0]) for who in "abh"] == [WAITING, SIGNED, CAME]
    assert [found.standing(who) for who in "abh"] == [WAITING, NOT_YET, CAME]


def test_who_left_is_apart_from_that_day_on() -> None:
    people = [Person("a", "Ada", left=date(2026, 11, 27)), Person("b", "Bo", left=date(2026, 11, 28))]
    assert cohort_numbers([], people, today=date(2026, 11, 27)).away == {"a"}


def test_marks_of_another_version_are_said_and_counted() -> None:
    old = [*row()[1:], Outcome("old_question", 1.0, 1.0, "right", "M")]
    found = cohort_numbers([Mark("a", LESSON, one) for one in old] + [Mark("b", LESSON, one) for one in row()])
    (said,) = found.troubles
    assert "“a” are of another version" in said
    assert f"lack “{PAPER.questions[0].title}” and have “old_question”" in said
    assert [found.state(who, found.lessons[0]) for who in "ab"] == [SIGNED, SIGNED]
    assert len(found.lessons[0].questions) == len(PAPER.questions)


def everything(full: bool = True) -> list[Mark]:
    return [
        Mark("a", lesson, Outcome(q.name, share(q, full) * q.points, q.points, "right", "M", "", "clear" * q.safety))
        for lesson, paper in SHEETS.items()
        for q in paper.questions
    ]


def share(question: object, full: bool) -> float:
    return 0.5 if not full and getattr(question, "kind", "") == "work" else 1.0


def test_three_parts_have_to_be_whole() -> None:
    assert len(calls()) == 3
    ready = cohort_numbers(everything(), [Person("a", "Ada")], SHEETS)
    assert ready.standing("a") == READY
    assert [part.whole for part in ready.parts("a").all] == [True, True, False]
    assert replace(ready, seen={"a": "by Lee Demo"}).standing("a") == OUT
    open_call = replace(cohort_numbers(everything(full=False), [Person("a", "Ada")], SHEETS), seen={"a": "by Lee Demo"})
    assert open_call.standing("a") == NOT_YET
    assert open_call.parts("a").calls.words == "call 1, call 2, call 3 not closed"
    fewer = replace(cohort_numbers(everything(), [Person("a", "Ada")], [*SHEETS]), seen={"a": "x"})
    unmarked = [mark for mark in everything() if mark.lesson != LESSON]
    assert fewer.standing("a") == OUT
    assert replace(cohort_numbers(unmarked, [Person("a", "A")], SHEETS), seen={"a": "x"}).standing("a") == NOT_YET
