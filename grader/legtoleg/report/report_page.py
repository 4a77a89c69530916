"""The report: one page that says who is signed off, who is held and for what, and which slips to talk about."""

from __future__ import annotations

import json
import platform
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import TypedDict

from nbformat.notebooknode import NotebookNode

from dryerbench.core.version import course_version
from dryerbench.registry import SLIPS, sheet
from legtoleg.cohort import cohort_config
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.gradebook import Book
from legtoleg.cohort.marking_cache import MarkingCache
from legtoleg.cohort.marks import Mark, all_marks
from legtoleg.core.files import write_whole
from legtoleg.core.page_templates import template
from legtoleg.marking.outcomes import PASS_SHARE, Outcome, earned
from legtoleg.report.answer_cells import given_out, paper_of
from legtoleg.report.cohort_statistics import (
    HELD,
    MISSING,
    NOT_YET,
    SIGNED,
    CohortNumbers,
    LessonNumbers,
    QuestionNumbers,
    cohort_numbers,
)
from legtoleg.report.integrity_facts import Fact, facts_of
from legtoleg.report.item_analysis import FEW
from legtoleg.report.report_bench import bench_rows, bench_words
from legtoleg.report.report_tables import tables, write_csv, write_workbook

SIGNS = {SIGNED: "✓", HELD: "⚠", NOT_YET: "·", MISSING: "–"}
"""One sign for each state, so that the page reads in grey too."""

_NOT_NOTED = "not noted"


@dataclass(frozen=True)
class Written:
    """What was written: the page, the workbook, the CSV files; and the numbers in them."""

    page: Path
    workbook: Path
    tables: list[Path]
    numbers: CohortNumbers


def said(note: str) -> str:
    """Return a note as words."""
    return note.replace("+", " or ").replace("_", " ")


def _cell(outcome: Outcome) -> dict[str, object]:
    nothing = "empty" if outcome.note == "blank" else "none"
    shade = "full" if outcome.full else "part" if outcome.points > 0 else nothing
    title = f"{outcome.answer} · {said(outcome.note)}"
    return {
        "points": f"{outcome.points:g}",
        "shade": shade,
        "held": outcome.safety == "held",
        "title": title[:300],
    }


def _person(numbers: CohortNumbers, lesson: LessonNumbers, who: str, feedback: str) -> dict[str, object]:
    outcomes = lesson.people.get(who, [])
    paper = sheet(lesson.lesson)
    state = numbers.state(who, lesson)
    fits = lesson.fits.get(who)
    return {
        "id": who,
        "name": numbers.names[who],
        **earned(outcomes),
        "state": state,
        "sign": SIGNS[state],
        "held_for": [paper.question(o.question).title for o in outcomes if o.safety == "held"],
        "card": numbers.tries.get((who, lesson.lesson), 1),
        "late": numbers.late.get((who, lesson.lesson), 0.0),
        "fits": ""
        if fits is None
        else f"{fits[1]} wrong numbers fit the machine of {numbers.names.get(fits[0], fits[0])}",
        "bench": [words for number, o in enumerate(outcomes, 1) if (words := bench_words(number, o))],
        "cells": [_cell(o) for o in outcomes],
        "feedback": feedback,
    }


def _hard(item: QuestionNumbers, *, few: bool) -> str:
    low = not few and item.item.discrimination is not None and item.item.discrimination < 0.1
    if low and item.item.difficulty < 0.95:
        return "does not tell people apart: look at how it is asked"
    return "hard: most lost points here" if item.item.difficulty < 0.5 else ""


def _question(number: int, one: QuestionNumbers, *, few: bool) -> dict[str, object]:
    found = one.item.discrimination
    return {
        "number": number,
        "title": one.question.title,
        "safety": one.question.safety,
        "share": f"{100 * one.item.difficulty:.0f}",
        "discrimination": "" if found is None else f"{found:.2f}",
        "wrong": "; ".join(f"{said(note)} ({times})" for note, times in one.wrong[:3]),
        "remark": _hard(one, few=few),
    }


class _LessonPage(TypedDict):
    lesson: str
    title: str
    people: list[dict[str, object]]
    count: int
    signed: int
    held: int
    missing: int
    questions: list[dict[str, object]]
    alpha: str
    kr20: str
    few: bool
    slips: list[dict[str, object]]
    bench: list[dict[str, object]]


def _lesson(numbers: CohortNumbers, lesson: LessonNumbers, link: Callable[[str, str], str]) -> _LessonPage:
    slips: list[dict[str, object]] = [
        {"slip": said(code), "times": times, "says": SLIPS[code].says, "cure": SLIPS[code].cure}
        for code, times in lesson.slips
    ]
    people = [_person(numbers, lesson, who, link(who, lesson.lesson)) for who in numbers.names]
    return {
        "lesson": lesson.lesson,
        "title": lesson.title,
        "people": people,
        "count": len(lesson.people),
        "signed": lesson.count(SIGNED),
        "held": lesson.count(HELD),
        "missing": sum(person["state"] == MISSING for person in people),
        "questions": [_question(number, one, few=lesson.few) for number, one in enumerate(lesson.questions, 1)],
        "alpha": "" if lesson.alpha is None else f"{lesson.alpha:.2f}",
        "kr20": "" if lesson.kr20 is None else f"{lesson.kr20:.2f}",
        "few": lesson.few,
        "slips": slips,
        "bench": bench_rows(lesson),
    }


def page_text(numbers: CohortNumbers, link: Callable[[str, str], str], *, made_up: bool = False) -> str:
    """Return the page as HTML that stands by itself; ``link`` gives the address of a feedback page, or nothing."""
    lessons = [_lesson(numbers, lesson, link) for lesson in numbers.lessons]
    return template("report.html").render(
        lessons=lessons,
        people=[_across(numbers, lessons, who) for who in numbers.names],
        standing=_standing(numbers),
        remarks=numbers.remarks,
        facts=numbers.facts,
        about=numbers.about,
        made_up=made_up,
        pass_share=f"{PASS_SHARE:.0%}",
        few=FEW,
        day=datetime.now().astimezone().date().isoformat(),
    )


def _across(numbers: CohortNumbers, lessons: list[_LessonPage], who: str) -> dict[str, object]:
    """Return one apprentice's line over all lessons."""
    cells = [_overview(lesson, who) for lesson in lessons]
    signed = sum(cell["state"] == SIGNED for cell in cells)
    return {"id": who, "name": numbers.names[who], "cells": cells, "signed": signed, "all": signed == len(cells)}


def _standing(numbers: CohortNumbers) -> dict[str, int]:
    """Return how many can be sent out, are held for safety in some lesson, are not there yet, handed in nothing."""
    count = {SIGNED: 0, HELD: 0, NOT_YET: 0, MISSING: 0}
    for who in numbers.names:
        states = [numbers.state(who, lesson) for lesson in numbers.lessons]
        if all(state == MISSING for state in states):
            count[MISSING] += 1
        elif HELD in states:
            count[HELD] += 1
        else:
            count[SIGNED if all(state == SIGNED for state in states) else NOT_YET] += 1
    return {"ready": count[SIGNED], "held": count[HELD], "not_yet": count[NOT_YET], "missing": count[MISSING]}


def _overview(lesson: _LessonPage, who: str) -> dict[str, object]:
    person = next(person for person in lesson["people"] if person["id"] == who)
    return {key: person[key] for key in ("state", "sign", "points", "max_points", "late", "held_for")}


def about(cohort: Cohort) -> list[tuple[str, str]]:
    """Return which versions of the course made this report, the cohort, and its marks."""
    made, set_up = cohort_config.versions(cohort.folder)
    marked = sorted({line.course or _NOT_NOTED for line in MarkingCache(cohort.folder).lines()})
    return [
        ("course, this report", course_version()),
        ("Python, this report", platform.python_version()),
        ("course, the cohort was made with", made or _NOT_NOTED),
        ("course, the cohort was set up last with", set_up or _NOT_NOTED),
        ("course, the hand-ins were marked with", ", ".join(marked) or "nothing is marked"),
    ]


def _remarks(cohort: Cohort) -> Iterator[str]:
    for line in MarkingCache(cohort.folder).lines():
        yield from (f"{line.apprentice}, {line.lesson}: {remark}." for remark in line.remarks)


def cohort_facts(cohort: Cohort, marks: list[Mark]) -> list[Fact]:
    """Return the facts of the marked notebooks of a cohort, for the instructor alone."""
    who = dict.fromkeys((mark.apprentice, mark.lesson) for mark in marks)
    papers = (paper_of(_json(cohort.autograded(*one)), *one) for one in who)
    lessons = dict.fromkeys(lesson for _, lesson in who)
    blank = {
        lesson: given_out(_json(cohort.released(lesson))) for lesson in lessons if cohort.released(lesson).is_file()
    }
    return facts_of(papers, blank)


def _json(path: Path) -> NotebookNode:
    return json.loads(path.read_text(encoding="utf-8"))


def write_report(cohort: Cohort, *, out: Path | None = None, made_up: bool = False) -> Written:
    """Write the page, the workbook and the CSV files of ``cohort`` into ``out`` (default: its own folder).

    Raises
    ------
    MarksDisagreeError
        If the book and a marked notebook say different points.
    """
    out = out or cohort.folder
    with Book(cohort.book) as book:
        marks, late = all_marks(cohort, book), book.seconds_late()
    names = {person.id: person.name for person in cohort.people()}
    numbers = cohort_numbers(marks, names, late, list(_remarks(cohort)))
    numbers = replace(numbers, facts=cohort_facts(cohort, marks), about=about(cohort))

    def link(who: str, lesson: str) -> str:
        page = cohort.feedback(who, lesson)
        inside = page.is_file() and page.is_relative_to(out.resolve())
        return page.relative_to(out.resolve()).as_posix() if inside else ""

    page, workbook = out / "report.html", out / "report.xlsx"
    write_whole(page, page_text(numbers, link, made_up=made_up).encode("utf-8"))
    write_workbook(workbook, numbers)
    written = []
    for name, table in tables(numbers).items():
        written.append(out / f"report-{name}.csv")
        write_csv(written[-1], table)
    return Written(page, workbook, written, numbers)
