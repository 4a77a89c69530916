"""How the notebooks ran: one line when all were isolated, else the lessons and names, and what it means."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from dryerbench.registry import sheet
from legtoleg.cohort.marks import Mark
from legtoleg.intake.roster import Person
from legtoleg.marking.outcomes import Outcome
from legtoleg.report.cohort_statistics import CohortNumbers, cohort_numbers
from legtoleg.report.isolation import runs_of
from legtoleg.report.report_page import page_text
from legtoleg.report.report_tables import tables

LESSON = "03_heater_power"
PEOPLE = [Person("ada", "Ada Demo"), Person("bo", "Bo <i>Demo</i>"), Person("cy", "Cy Demo")]
ROW = [Outcome(one.name, one.points, one.points, "right", "M", "1") for one in sheet(LESSON).questions]


def numbers(**isolated: bool | None) -> CohortNumbers:
    marks = [Mark(who, LESSON, one, isolated=shut_in) for who, shut_in in isolated.items() for one in ROW]
    return cohort_numbers(marks, PEOPLE)


def words(found: CohortNumbers, *, made_up: bool = False) -> str:
    text = page_text(found, lambda *_: "", made_up=made_up)
    part = text[text.index("How the notebooks ran") : text.index('<section class="page">')]
    return re.sub(r"<[^>]+>", " ", part)


def test_one_line_when_all_were_isolated() -> None:
    found = words(numbers(ada=True, bo=True, cy=True))
    assert found.startswith("How the notebooks ran: all 3 isolated")
    assert "without isolation" not in found
    assert "Ada" not in found


def test_lessons_and_names_where_they_were_not_and_what_it_means() -> None:
    found = words(numbers(ada=True, bo=False, cy=False))
    assert "2 of 3 without isolation" in found
    assert re.search(r"03: Bo .*Demo.*, Cy Demo", found)
    assert "<i>" not in page_text(numbers(bo=False), lambda *_: "")
    assert "Ada Demo" not in found
    assert "could read your files and the worked answers" in found
    assert "bubblewrap" in found


def test_what_older_marks_do_not_say_is_not_called_isolated() -> None:
    found = words(numbers(ada=True, bo=None))
    assert "of 1 nothing is noted" in found
    assert "all 2 isolated" not in found


def test_a_made_up_cohort_needs_no_isolation_and_gets_no_alarm() -> None:
    found = words(numbers(ada=False, bo=False), made_up=True)
    assert "2 of 2 without isolation" in found
    assert "needs none" in found
    assert "Ada" not in found


def test_everybody_is_said_in_one_word_and_many_names_are_cut() -> None:
    lessons = ("01_made_dead", LESSON)
    isolated = {(f"p{n:02}", lesson): n > 10 and lesson == LESSON for n in range(20) for lesson in lessons}
    assert runs_of(isolated, {}).lines == [
        "01: all 20",
        "03: " + ", ".join(f"p{n:02}" for n in range(8)) + " and 3 more",
    ]


@pytest.mark.parametrize(("isolated", "word"), [(True, "isolated"), (False, "not isolated"), (None, "")])
def test_the_table_of_answers_says_it_of_each(isolated: bool | None, word: str) -> None:
    found = tables(replace(numbers(ada=isolated)))["answers"]
    assert set(found["isolation"]) == {word}


def test_nothing_is_said_before_anything_is_marked() -> None:
    assert "How the notebooks ran" not in page_text(cohort_numbers([], PEOPLE), lambda *_: "")
