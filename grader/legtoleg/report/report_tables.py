"""The report as tables: CSV files and one workbook, in which no cell is ever taken for a formula."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from openpyxl import Workbook
from openpyxl.cell import Cell
from openpyxl.styles import Font
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from dryerbench.registry import SLIPS
from legtoleg.marking.outcomes import Outcome
from legtoleg.report.cohort_statistics import CohortNumbers

_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "|", "%")
"""What a spreadsheet may take for the start of a formula or a command (OWASP, CSV injection)."""
_LONGEST = 1000
_BENCH = ["minutes on the bench", "advised minutes", "evidence"]

Row = list[Any]
Table = tuple[str, Row, list[Row]]


def harmless(text: str) -> str:
    """Return ``text`` so that no spreadsheet runs it: an apostrophe before what could start a formula."""
    cleaned = "".join(letter if letter.isprintable() else " " for letter in text)[:_LONGEST]
    return f"'{cleaned}" if text.startswith(_FORMULA) or cleaned.lstrip().startswith(_FORMULA) else cleaned


def _states(numbers: CohortNumbers) -> Table:
    head = ["id", "name", *(lesson.lesson for lesson in numbers.lessons)]
    rows = [
        [who, name, *(numbers.state(who, lesson) for lesson in numbers.lessons)] for who, name in numbers.names.items()
    ]
    return "people", head, rows


def _answer(outcome: Outcome) -> Row:
    work = outcome.work
    bench: Row = ["", "", ""] if work is None else [work.minutes, _known(work.advised), work.evidence]
    return [outcome.points, outcome.max_points, outcome.note, outcome.safety, str(outcome.answer), *bench]


def _known(value: float | None) -> float | str:
    return "" if value is None else value


def _answers(numbers: CohortNumbers) -> Table:
    head = ["id", "lesson", "card", "question", "points", "of", "note", "safety", "answer", *_BENCH]
    rows = [
        [who, lesson.lesson, numbers.tries.get((who, lesson.lesson), 1), outcome.question, *_answer(outcome)]
        for lesson in numbers.lessons
        for who, outcomes in lesson.people.items()
        for outcome in outcomes
    ]
    return "answers", head, rows


def _rounded(value: float | None) -> float | str:
    return _known(None if value is None else round(value, 3))


def _questions(numbers: CohortNumbers) -> Table:
    head = ["lesson", "question", "safety", "people", "difficulty", "discrimination", "most frequent", "times"]
    head += ["minutes on the bench, median", "advised minutes, median", "share of named faults settled"]
    rows: list[Row] = []
    for lesson in numbers.lessons:
        for one in lesson.questions:
            note, times = one.wrong[0] if one.wrong else ("", 0)
            item = [_rounded(one.item.difficulty), _rounded(one.item.discrimination)]
            safety = "yes" if one.question.safety else ""
            bench: Row = [None] * 3 if one.bench is None else [one.bench.median, one.bench.advised, one.bench.settled]
            begin = [lesson.lesson, one.question.name, safety, len(lesson.people)]
            rows.append([*begin, *item, note, times, *map(_rounded, bench)])
    return "questions", head, rows


def _slips(numbers: CohortNumbers) -> Table:
    head = ["lesson", "slip", "times", "what to say", "read again"]
    rows = [
        [lesson.lesson, code, times, SLIPS[code].says, SLIPS[code].cure]
        for lesson in numbers.lessons
        for code, times in lesson.slips
    ]
    return "slips", head, rows


def _facts(numbers: CohortNumbers) -> Table:
    head = ["people", "lesson", "kind", "fact", "odds by chance"]
    rows: list[Row] = [
        [", ".join(fact.people), fact.lesson, fact.kind, fact.words, "" if fact.odds is None else fact.odds]
        for fact in numbers.facts
    ]
    return "facts", head, rows


def tables(numbers: CohortNumbers) -> Iterator[Table]:
    """Yield each table of the report: its name, the head of its columns, its rows."""
    yield _states(numbers)
    yield _answers(numbers)
    yield _questions(numbers)
    yield _slips(numbers)
    yield _facts(numbers)


def write_csv(path: Path, table: Table) -> None:
    """Write one table as CSV in UTF-8 with a mark that spreadsheets know it by."""
    _, head, rows = table
    with path.open("w", encoding="utf-8-sig", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(head)
        writer.writerows([harmless(cell) if isinstance(cell, str) else cell for cell in row] for row in rows)


def _put(cell: Cell, value: Any) -> None:
    if isinstance(value, str):
        cell.value = harmless(value)
        cell.data_type = "s"
    else:
        cell.value = value


def _fill(sheet: Worksheet, head: Row, rows: list[Row]) -> None:
    for row, values in enumerate([head, *rows], 1):
        for column, value in enumerate(values, 1):
            _put(sheet.cell(row, column), value)
    for column in range(1, len(head) + 1):
        sheet.cell(1, column).font = Font(bold=True)
        longest = max(len(str(row[column - 1])) for row in [head, *rows[:200]])
        sheet.column_dimensions[get_column_letter(column)].width = min(60, longest + 2)
    sheet.freeze_panes = "A2"


def write_workbook(path: Path, numbers: CohortNumbers) -> None:
    """Write all tables as one workbook, a sheet each."""
    book = Workbook()
    book.remove(book.active)
    for name, head, rows in tables(numbers):
        _fill(book.create_sheet(name), head, rows)
    book.save(path)
