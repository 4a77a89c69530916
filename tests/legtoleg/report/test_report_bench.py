"""What the report says of the bench: a row for each question worked there, and a few words for each apprentice."""

from __future__ import annotations

import pytest

from dryerbench.registry import sheet
from legtoleg.marking.bench_work import BenchWork
from legtoleg.marking.outcomes import Outcome
from legtoleg.report.cohort_statistics import LessonNumbers, lesson_numbers
from legtoleg.report.report_bench import bench_rows, bench_words

LESSON = "05_path_to_case"
PAPER = sheet(LESSON)
FAULT = next(question for question in PAPER.questions if question.kind == "fault")


def lesson(*works: tuple[float, BenchWork | None]) -> LessonNumbers:
    people = {}
    for number, (points, work) in enumerate(works):
        row = [Outcome(q.name, q.points, q.points, "right", "Right.") for q in PAPER.questions]
        place = PAPER.questions.index(FAULT)
        row[place] = Outcome(FAULT.name, points, FAULT.points, "n", "M", work=work)
        people[f"demo-{number}"] = row
    return lesson_numbers(LESSON, people)


def test_one_row_for_each_question_on_the_bench() -> None:
    works = (BenchWork(40.0, 20.0, "settles"), BenchWork(44.0, 20.0, "thin", ("x",)), BenchWork(30.0, 20.0, "settles"))
    (row,) = bench_rows(lesson((FAULT.points, works[0]), (1.0, works[1]), (0.0, works[2])))
    assert row["title"] == FAULT.title
    assert (row["people"], row["minutes"], row["range"], row["advised"]) == (3, "40", "30 to 44", "20")
    assert (row["settled"], row["named"]) == ("67", 3)
    assert row["remark"] == (
        "1 named the right fault on readings that leave others possible; "
        "1 had read enough and named another fault; slow: ask which reading they would take first"
    )


def test_marks_from_before_it_was_kept_have_no_row() -> None:
    assert bench_rows(lesson((4.0, None))) == []


@pytest.mark.parametrize(
    ("points", "work", "says"),
    [
        (4.0, None, ""),
        (4.0, BenchWork(17.0), "No. 2: 17 min"),
        (4.0, BenchWork(19.2, 20.0, "settles"), "No. 2: 19 min (advised 20), settled"),
        (2.0, BenchWork(9.0, None, "thin"), "No. 2: 9 min, thin"),
        (0.0, BenchWork(9.0, None, "settles"), "No. 2: 9 min, settled, but another fault named"),
        (0.0, BenchWork(9.0, None, "thin"), "No. 2: 9 min, not found"),
    ],
)
def test_a_few_words_for_each_apprentice(points: float, work: BenchWork | None, says: str) -> None:
    assert bench_words(2, Outcome("q", points, 4.0, "n", "M", work=work)) == says
