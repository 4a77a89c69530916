"""The report: who stands where, what nobody may run, whose numbers fit another machine."""

from __future__ import annotations

import csv
import importlib.metadata
from dataclasses import replace
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from dryerbench.answers.tolerance import rounded
from dryerbench.registry import sheet
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.feedback_page import page
from legtoleg.cohort.marking_cache import MarkedLine, MarkingCache
from legtoleg.cohort.marks import Mark
from legtoleg.intake.roster import Person
from legtoleg.keys.answer_key import worked
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome
from legtoleg.report.cohort_statistics import HELD, MISSING, NOT_YET, SIGNED, cohort_numbers
from legtoleg.report.report_page import page_text
from legtoleg.report.report_run import about
from legtoleg.report.report_tables import harmless, tables, workbook_bytes, write_csv

LESSON = "03_heater_power"
PAPER = sheet(LESSON)


def answers(who: str, machine: str = "") -> dict[str, Found]:
    right = worked(LESSON, PAPER.card(machine or who))
    return {
        q.name: Found("quantity", float(rounded(right[q.name], q.figures)), q.unit, q.figures) for q in PAPER.questions
    }


def outcomes(who: str, **changed: Found) -> list[Outcome]:
    return list(mark_lesson(LESSON, who, {**answers(who), **changed}).values())


def marks(**people: list[Outcome]) -> list[Mark]:
    return [Mark(who, LESSON, outcome) for who, row in people.items() for outcome in row]


BLANK = dict.fromkeys((q.name for q in PAPER.questions), Found("blank"))
HELD_BY = {"control_off_volts": Found("quantity", 0.0, "V", 1)}
NAMES = {"ada": "Ada <script>alert(1)</script>", "bo": "=HYPERLINK(1)", "cy": "Cy Demo", "di": "Di Demo"}
PEOPLE = [Person(who, name) for who, name in NAMES.items()]


@pytest.fixture
def numbers() -> Any:
    rows = {"ada": outcomes("ada"), "bo": outcomes("bo", **HELD_BY), "cy": outcomes("cy", **BLANK)}
    found = cohort_numbers(marks(**rows), PEOPLE, late={("bo", LESSON): 129_600.0})
    return replace(found, remarks=["bo: did <b>odd</b> things."])


def test_where_everybody_stands(numbers: Any) -> None:
    (lesson,) = numbers.lessons
    assert [numbers.state(who, lesson) for who in NAMES] == [SIGNED, HELD, NOT_YET, MISSING]
    assert lesson.few
    assert ("off_means_dead", 1) in lesson.slips
    text = page_text(numbers, lambda *_: "")
    assert "<li>signed off: <b>1</b></li><li>held for safety: <b>1</b></li><li>not yet: <b>1</b></li>" in text
    assert "<li>nothing came: <b>1</b></li>" in text
    assert "1.5 days late" in text
    assert "With 3 people these numbers are rough" in text
    assert "Volts to the cabinet with the control off" in text


def test_the_page_stands_by_itself_and_runs_nothing(numbers: Any) -> None:
    text = page_text(numbers, lambda who, lesson: f"feedback/{who}/{lesson}.html")
    assert text.count("<script") == 1
    assert "&lt;script&gt;" in text
    assert "<b>odd</b>" not in text
    assert "http" not in text
    assert 'href="feedback/ada/03_heater_power.html"' in text
    assert "Made-up" not in text
    assert "Made-up" in page_text(numbers, lambda *_: "", made_up=True)


def test_a_cohort_without_marks_has_a_page_too() -> None:
    assert "Cy Demo" in page_text(cohort_numbers([], PEOPLE), lambda *_: "")


@pytest.mark.parametrize(
    "text", ["=1+1", "+1", "-1+2", "@SUM(1)", "\t=1", " =1", "\r=1", "|cmd", "%0a=1", "=cmd|' /C calc'!A0"]
)
def test_formulas_are_defused(text: str) -> None:
    assert harmless(text).startswith("'")
    assert harmless("8.9 A") == "8.9 A"
    assert len(harmless("x" * 10_000)) <= 1001


def test_no_cell_is_a_formula(numbers: Any, tmp_path: Path) -> None:
    (tmp_path / "r.xlsx").write_bytes(workbook_bytes(tables(numbers)))
    book = openpyxl.load_workbook(tmp_path / "r.xlsx")
    assert book.sheetnames == ["people", "answers", "questions", "slips", "ungraded", "facts", "about"]
    cells = [cell for page in book for row in page.iter_rows() for cell in row]
    assert not [cell for cell in cells if cell.data_type == "f"]
    assert all(page.auto_filter.ref and page.freeze_panes == "A2" for page in book)
    assert book["people"]["B3"].value == "'=HYPERLINK(1)"
    assert isinstance(book["answers"]["F2"].value, int | float)
    for table in tables(numbers).values():
        write_csv(tmp_path / "r.csv", table)
        with (tmp_path / "r.csv").open(encoding="utf-8-sig", newline="") as file:
            rows = list(csv.reader(file))
        assert len(rows) == len(table) + 1
        assert not [cell for row in rows for cell in row if cell.startswith(("=", "@", "+"))]


def test_the_feedback_page_says_where_to_read_and_runs_nothing() -> None:
    row = outcomes("bo", element_current=Found("unreadable", typed="<script>x</script>"), **HELD_BY)
    text = page(LESSON, "bo", "Bo <b>", row, ("was saved in the old notebook format 3",))
    assert "Held for safety" in text
    assert "Read again: Off is not dead." in text
    assert "<script" not in text
    assert "Bo &lt;b&gt;" in text
    assert "old notebook format 3" in text
    assert "Signed off.</b>" in page(LESSON, "ada", "Ada", outcomes("ada"))


def test_the_report_says_which_versions_made_it(numbers: Any, tmp_path: Path) -> None:
    cohort = Cohort.make(tmp_path, [])
    cache = MarkingCache(cohort.folder)
    cache.write(MarkedLine("ada", LESSON, "a" * 64, "b" * 64, (), "0.0.9"))
    cache.write(MarkedLine("bo", LESSON, "a" * 64, "b" * 64))
    now = importlib.metadata.version("leg-to-leg")
    lines = {(line.apprentice, line.lesson): line for line in cache.lines()}
    found = dict(about(cohort, lines))
    assert found["course, this report"] == found["course, the cohort was made with"] == now
    assert found["course, the hand-ins were graded with"] == "0.0.9, not noted"
    whole = replace(numbers, about=about(cohort, lines))
    foot = page_text(whole, lambda *_: "").partition("<footer")[2]
    assert f"course, this report: {now};" in foot
    assert "0.0.9, not noted." in foot
    assert list(tables(whole)["about"].columns) == ["what", "version"]
    assert ["course, the cohort was made with", now] in tables(whole)["about"].to_numpy().tolist()
    assert "<footer" not in page_text(numbers, lambda *_: "")


def test_a_long_list_of_those_held_is_by_number(numbers: Any) -> None:
    """In words if it is short; else by lesson and number of questions, with the words where the pointer rests."""
    few = page_text(numbers, lambda *_: "")
    words = "Volts to the cabinet with the control off"
    assert f'<span class="why">03: {words}</span>' in few
    people = [Person(f"p{n:02}", f"Person {n:02}") for n in range(40)]
    rows = {person.id: outcomes(person.id, **HELD_BY) for person in people}
    many = page_text(cohort_numbers(marks(**rows), people), lambda who, _: f"{who}.html")
    assert many.count(f'<span class="why"><a href="p07.html" title="{words}">03</a></span>') == 1
    assert many.count(f'title="{words}">03</a></span>') == 40
    assert f"03: {words}" not in many
