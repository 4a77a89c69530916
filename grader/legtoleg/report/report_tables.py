"""The report as tables: CSV files and one workbook, in which no cell is ever taken for a formula."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import lru_cache
from pathlib import Path

from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.styles import Font
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet
from pandas import DataFrame

from dryerbench.registry import SLIPS, sheet
from legtoleg.cohort.marks import ISOLATION
from legtoleg.core.outside_words import plain_words
from legtoleg.marking.note_titles import note_title
from legtoleg.marking.outcomes import Outcome
from legtoleg.report.cohort_statistics import CAME, STRANGER, WAITING, CohortNumbers, LessonNumbers, QuestionNumbers
from legtoleg.report.first_screen import title_of
from legtoleg.report.three_parts import CALLS, LESSONS, WITNESS

_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "|", "%")
"""What a spreadsheet may take for the start of a formula or a command (OWASP, CSV injection)."""
_LONGEST = 1000
WIDE = "wide"
"""The name of the wide table."""
_CODES = ("question", "note", "slip")
"""The columns that hold codes: programs know questions and notes by them, and people read the column beside."""
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


@lru_cache(maxsize=20_000)
def harmless(text: str) -> str:
    """Return ``text`` so that no spreadsheet runs it: an apostrophe before what could start a formula."""
    cleaned = plain_words(text, _LONGEST)
    return f"'{cleaned}" if text.startswith(_FORMULA) or cleaned.lstrip().startswith(_FORMULA) else cleaned


def _states(numbers: CohortNumbers) -> DataFrame:
    head = ["id", "name", "group", "left", "stands", *(f"part: {name}" for name in (LESSONS, CALLS, WITNESS))]
    rows = (
        [
            who,
            numbers.name(who),
            numbers.people[who].group,
            _left(numbers, who),
            "" if who in numbers.away else numbers.standing(who),
            *(part.words for part in numbers.parts(who).all),
            *(numbers.state(who, lesson) for lesson in numbers.lessons),
        ]
        for who in numbers.people
    )
    return table_of([*head, *(lesson.lesson for lesson in numbers.lessons)], rows)


def _left(numbers: CohortNumbers, who: str) -> str:
    day = numbers.people[who].left
    return day.isoformat() if day else STRANGER if who in numbers.away else ""


def wide_table(numbers: CohortNumbers) -> DataFrame:
    """Return one row a person, for a learning-management system: id, mail, and the points of lessons and questions.

    The columns are called by lesson and code, as such a system needs them. What is not marked is empty, not 0. The mail
    has no column where the roster has none; who has left has no row.
    """
    mails = any(person.mail for person in numbers.people.values())
    asked = [
        (lesson, [one.question.name for one in lesson.questions] if lesson.questions
         else [one.name for one in sheet(lesson.lesson).questions])
        for lesson in numbers.lessons
    ]  # fmt: skip
    head = ["id", *(["mail"] if mails else [])]
    for lesson, names in asked:
        head += [lesson.lesson, *(f"{lesson.lesson}.{name}" for name in names)]
    rows: list[Row] = []
    for who in numbers.here:
        row: list[CellValue] = [who, *([numbers.people[who].mail] if mails else [])]
        for lesson, names in asked:
            points = {outcome.question: outcome.points for outcome in lesson.people.get(who, [])}
            row += [sum(points.values()) if points else None, *(points.get(name) for name in names)]
        rows.append(row)
    return table_of(head, rows)


def _answer(outcome: Outcome, lesson: str) -> Row:
    work = outcome.work
    bench: list[CellValue] = [None] * 3 if work is None else [work.minutes, work.advised, work.evidence]
    worth: list[CellValue] = [outcome.points, outcome.max_points, outcome.note, note_title(outcome.note)]
    return [
        outcome.question,
        title_of(lesson, outcome.question),
        *worth,
        outcome.safety,
        str(outcome.answer),
        *bench,
    ]


def _answers(numbers: CohortNumbers) -> DataFrame:
    head = ["id", "lesson", "card", "question", "asked", "points", "of", "note", "what happened", "safety", "answer"]
    head += [*_BENCH, "isolation"]
    rows = (
        [
            who,
            lesson.lesson,
            numbers.tries.get((who, lesson.lesson), 1),
            *_answer(outcome, lesson.lesson),
            ISOLATION[numbers.isolated.get((who, lesson.lesson))],
        ]
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
        one.question.title,
        "yes" if one.question.safety else "",
        len(lesson.people),
    ]
    return [*begin, one.item.difficulty, one.item.discrimination, note, note_title(note) if note else "", times, *bench]


def _questions(numbers: CohortNumbers) -> DataFrame:
    head = ["lesson", "question", "asked", "safety", "people", "difficulty", "discrimination"]
    head += [
        "note",
        "what went wrong most",
        "times",
        "minutes on the bench, median",
        "advised minutes, median",
        "share of named faults settled",
    ]
    rows = (_question(lesson, one) for lesson in numbers.lessons for one in lesson.questions)
    return _each(table_of(head, rows), lambda cell: round(cell, 3) if isinstance(cell, float) else cell)


def _slips(numbers: CohortNumbers) -> DataFrame:
    head = ["lesson", "slip", "slip in words", "times", "what to say", "read again"]
    rows: Iterable[Row] = (
        [lesson.lesson, code, SLIPS[code].title, times, SLIPS[code].says, SLIPS[code].cure]
        for lesson in numbers.lessons
        for code, times in lesson.slips
    )
    return table_of(head, rows)


def _ungraded(numbers: CohortNumbers) -> DataFrame:
    """Return the hand-ins without marks: whose, of which lesson, what keeps each, and what to do."""
    fates = numbers.fates
    rows: Iterable[Row] = (
        [who, numbers.name(who), lesson, WAITING if (who, lesson) in fates.waiting else CAME, fates.why(who, lesson)]
        for who, lesson in sorted({*fates.waiting, *fates.unmarked})
    )
    return table_of(["id", "name", "lesson", "state", "why, and what to do"], rows)


def _facts(numbers: CohortNumbers) -> DataFrame:
    head = ["people", "lesson", "kind", "fact", "chance of that"]
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
        "ungraded": _ungraded,
        "facts": _facts,
        "about": _about,
    }
    return {name: make(numbers) for name, make in made.items()}


def _column(name: str) -> str:
    lesson, _, question = name.partition(".")
    return f"{lesson[:2]}: {title_of(lesson, question)}" if question else name


def for_people(made: Mapping[str, DataFrame]) -> dict[str, DataFrame]:
    """Return tables as people read them: without the columns of codes, and each question's column under its title."""
    read = {name: table.drop(columns=[code for code in _CODES if code in table]) for name, table in made.items()}
    return {name: table.rename(columns=_column) if name == WIDE else table for name, table in read.items()}


def _safe(cell: CellValue) -> CellValue:
    return harmless(cell) if isinstance(cell, str) else cell


def csv_bytes(table: DataFrame) -> bytes:
    """Return one table as CSV in UTF-8 with a mark that spreadsheets know it by."""
    text = _each(table, _safe).to_csv(index=False, lineterminator="\r\n")
    return b"\xef\xbb\xbf" + str(text).encode("utf-8", "replace")


def write_csv(path: Path, table: DataFrame) -> None:
    """Write one table as CSV."""
    path.write_bytes(csv_bytes(table))


def _fill(page: Worksheet, table: DataFrame) -> None:
    """Fill a sheet of a workbook that is only written: the head first, which stays in sight and has the filters."""
    for column, name in enumerate(table.columns, 1):
        longest = max(len(str(cell)) for cell in (name, *table[name].head(200)))
        page.column_dimensions[get_column_letter(column)].width = min(60, longest + 4)
    page.freeze_panes = "A2"
    page.auto_filter.ref = f"A1:{get_column_letter(len(table.columns))}{len(table) + 1}"
    page.append([_text(page, str(name), bold=True) for name in table.columns])
    for row in table.itertuples(index=False, name=None):
        page.append(
            [
                _text(page, harmless(cell)) if isinstance(cell, str) and cell else None if cell == "" else cell
                for cell in row
            ]
        )


def _text(page: Worksheet, text: str, *, bold: bool = False) -> WriteOnlyCell | str:
    """Return ``text`` as a cell that is text, whatever stands in it; most text needs no cell of its own."""
    if not bold and not text.startswith("#"):
        return text
    cell = WriteOnlyCell(page, text)
    cell.data_type = "s"
    if bold:
        cell.font = Font(bold=True)
    return cell


def workbook_bytes(made: Mapping[str, DataFrame]) -> bytes:
    """Return tables by their names as one workbook, a sheet each, with filters and a head that stays in sight."""
    book, out = Workbook(write_only=True), io.BytesIO()
    for name, table in made.items():
        _fill(book.create_sheet(name), table)
    book.save(out)
    return out.getvalue()
