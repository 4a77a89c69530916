"""The report as tables: CSV files and one workbook, in which no cell is ever taken for a formula."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

from openpyxl import Workbook
from openpyxl.styles import Font
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet
from pandas import DataFrame

from dryerbench.registry import SLIPS
from legtoleg.marking.outcomes import Outcome
from legtoleg.report.cohort_statistics import CohortNumbers, LessonNumbers, QuestionNumbers

_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "|", "%")
"""What a spreadsheet may take for the start of a formula or a command (OWASP, CSV injection)."""
_LONGEST = 1000
_BENCH = ["minutes on the bench", "advised minutes", "evidence"]

CellValue = str | float | None
Row = Sequence[CellValue]


def table_of(head: Sequence[str], rows: Iterable[Row]) -> DataFrame:
    """Return rows under the names of their columns, each cell as it is; what is not known (None) is an empty text."""
    return DataFrame([["" if cell is None else cell for cell in row] for row in rows], columns=list(head), dtype=object)


def _each(table: DataFrame, change: Callable[[CellValue], CellValue]) -> DataFrame:
    """Return the table with every cell changed; whole numbers stay whole, of which pandas' own ``map`` makes floats."""
    rows = table.itertuples(index=False, name=None)
    return table_of(list(table.columns), ([change(cell) for cell in row] for row in rows))


def harmless(text: str) -> str:
    """Return ``text`` so that no spreadsheet runs it: an apostrophe before what could start a formula."""
    cleaned = "".join(letter if letter.isprintable() else " " for letter in text)[:_LONGEST]
    return f"'{cleaned}" if text.startswith(_FORMULA) or cleaned.lstrip().startswith(_FORMULA) else cleaned


def _states(numbers: CohortNumbers) -> DataFrame:
    head = ["id", "name", *(lesson.lesson for lesson in numbers.lessons)]
    rows = (
        [who, name, *(numbers.state(who, lesson) for lesson in numbers.lessons)] for who, name in numbers.names.items()
    )
    return table_of(head, rows)


def _answer(outcome: Outcome) -> Row:
    work = outcome.work
    bench: list[CellValue] = [None] * 3 if work is None else [work.minutes, work.advised, work.evidence]
    return [outcome.points, outcome.max_points, outcome.note, outcome.safety, str(outcome.answer), *bench]


def _answers(numbers: CohortNumbers) -> DataFrame:
    head = ["id", "lesson", "card", "question", "points", "of", "note", "safety", "answer", *_BENCH]
    rows = (
        [who, lesson.lesson, numbers.tries.get((who, lesson.lesson), 1), outcome.question, *_answer(outcome)]
        for lesson in numbers.lessons
        for who, outcomes in lesson.people.items()
        for outcome in outcomes
    )
    return table_of(head, rows)


def _question(lesson: LessonNumbers, one: QuestionNumbers) -> Row:
    note, times = one.wrong[0] if one.wrong else ("", 0)
    bench: list[CellValue] = (
        [None] * 3 if one.bench is None else [one.bench.median, one.bench.advised, one.bench.settled]
    )
    begin: list[CellValue] = [
        lesson.lesson,
        one.question.name,
        "yes" if one.question.safety else "",
        len(lesson.people),
    ]
    return [*begin, one.item.difficulty, one.item.discrimination, note, times, *bench]


def _questions(numbers: CohortNumbers) -> DataFrame:
    head = ["lesson", "question", "safety", "people", "difficulty", "discrimination", "most frequent", "times"]
    head += ["minutes on the bench, median", "advised minutes, median", "share of named faults settled"]
    rows = (_question(lesson, one) for lesson in numbers.lessons for one in lesson.questions)
    return _each(table_of(head, rows), lambda cell: round(cell, 3) if isinstance(cell, float) else cell)


def _slips(numbers: CohortNumbers) -> DataFrame:
    head = ["lesson", "slip", "times", "what to say", "read again"]
    rows: Iterable[Row] = (
        [lesson.lesson, code, times, SLIPS[code].says, SLIPS[code].cure]
        for lesson in numbers.lessons
        for code, times in lesson.slips
    )
    return table_of(head, rows)


def _facts(numbers: CohortNumbers) -> DataFrame:
    head = ["people", "lesson", "kind", "fact", "odds by chance"]
    return table_of(
        head, ([", ".join(fact.people), fact.lesson, fact.kind, fact.words, fact.odds] for fact in numbers.facts)
    )


def _about(numbers: CohortNumbers) -> DataFrame:
    return table_of(["what", "version"], ([what, found] for what, found in numbers.about))


def tables(numbers: CohortNumbers) -> dict[str, DataFrame]:
    """Return each table of the report by its name."""
    made = {
        "people": _states,
        "answers": _answers,
        "questions": _questions,
        "slips": _slips,
        "facts": _facts,
        "about": _about,
    }
    return {name: make(numbers) for name, make in made.items()}


def _safe(cell: CellValue) -> CellValue:
    return harmless(cell) if isinstance(cell, str) else cell


def write_csv(path: Path, table: DataFrame) -> None:
    """Write one table as CSV in UTF-8 with a mark that spreadsheets know it by."""
    _each(table, _safe).to_csv(path, index=False, encoding="utf-8-sig", lineterminator="\r\n")


def _fill(sheet: Worksheet, table: DataFrame) -> None:
    rows = [tuple(table.columns), *_each(table, _safe).itertuples(index=False, name=None)]
    for row, values in enumerate(rows, 1):
        for column, value in enumerate(values, 1):
            cell = sheet.cell(row, column, value)
            if isinstance(value, str):
                cell.data_type = "s"
    for column, name in enumerate(table.columns, 1):
        sheet.cell(1, column).font = Font(bold=True)
        longest = max(len(str(cell)) for cell in (name, *table[name].head(200)))
        sheet.column_dimensions[get_column_letter(column)].width = min(60, longest + 2)
    sheet.freeze_panes = "A2"


def write_workbook(path: Path, numbers: CohortNumbers) -> None:
    """Write all tables as one workbook, a sheet each."""
    book = Workbook()
    book.remove(book.active)
    for name, table in tables(numbers).items():
        _fill(book.create_sheet(name), table)
    book.save(path)
