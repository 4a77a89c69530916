"""The report's tables: one row for each thing, numbers as numbers, bench work in its own columns."""

from __future__ import annotations

import csv
from pathlib import Path

import openpyxl
import pytest

from dryerbench.registry import sheet
from legtoleg.cohort.marks import Mark
from legtoleg.intake.roster import Person
from legtoleg.marking.bench_work import BenchWork
from legtoleg.marking.outcomes import Outcome
from legtoleg.report.cohort_statistics import CohortNumbers, cohort_numbers
from legtoleg.report.report_tables import WIDE, for_people, table_of, tables, wide_table, workbook_bytes, write_csv

LESSON = "05_path_to_case"
PAPER = sheet(LESSON)


@pytest.fixture
def numbers() -> CohortNumbers:
    works = {"fault_to_case": BenchWork(19.3, 19.9, "settles")}
    marks = [
        Mark("demo-01", LESSON, Outcome(q.name, q.points, q.points, "right", "Right.", "a", "", works.get(q.name)))
        for q in PAPER.questions
    ]
    return cohort_numbers(marks, [Person("demo-01", "Demo One"), Person("demo-02", "Demo Two")])


def test_bench_work_has_columns_of_its_own(numbers: CohortNumbers) -> None:
    found = {name: (list(one.columns), one.to_numpy().tolist()) for name, one in tables(numbers).items()}
    head, rows = found["answers"]
    bench = {row[3]: row[-4:-1] for row in rows}
    assert head[-4:-1] == ["minutes on the bench", "advised minutes", "evidence"]
    assert bench["fault_to_case"] == [19.3, 19.9, "settles"]
    assert bench[PAPER.questions[0].name] == ["", "", ""]
    head, rows = found["questions"]
    assert {row[1]: row[-3:] for row in rows}["fault_to_case"] == [19.3, 19.9, 1.0]
    assert all(len(row) == len(head) for _, (head, rows) in found.items() for row in rows)
    assert [[row[0], row[1], row[-1]] for row in found["people"][1]] == [
        ["demo-01", "Demo One", "signed off"],
        ["demo-02", "Demo Two", "nothing came"],
    ]


def test_csv_and_workbook_hold_the_same(numbers: CohortNumbers, tmp_path: Path) -> None:
    (tmp_path / "r.xlsx").write_bytes(workbook_bytes(tables(numbers)))
    book = openpyxl.load_workbook(tmp_path / "r.xlsx")
    for name, table in tables(numbers).items():
        write_csv(tmp_path / "r.csv", table)
        with (tmp_path / "r.csv").open(encoding="utf-8-sig", newline="") as file:
            rows = list(csv.reader(file))
        kept = [[cell.value or "" for cell in row] for row in book[name].iter_rows()]
        assert [[_read(cell) for cell in row] for row in rows] == kept


def test_the_workbook_has_titles_where_programs_have_codes(numbers: CohortNumbers) -> None:
    made = tables(numbers) | {WIDE: wide_table(numbers)}
    read = for_people(made)
    codes = {question.name for question in PAPER.questions}
    titles = [question.title for question in PAPER.questions]
    assert set(made["answers"]["question"]) == codes
    assert list(read["answers"]["asked"]) == titles
    assert set(read["answers"]["what happened"]) == {"Right"}
    assert list(read[WIDE].columns) == ["id", LESSON, *(f"05: {title}" for title in titles)]
    for table in read.values():
        assert not {"question", "note", "slip"} & set(table.columns)
        assert not codes & {cell for row in table.to_numpy().tolist() for cell in row}


def test_a_number_is_written_as_it_is(tmp_path: Path) -> None:
    """Whole points stay whole beside broken ones, in the file and in the workbook; what is not known is empty."""
    table = table_of(["of", "points", "safe"], [[2, 2.5, "=1"], [3, 3.0, None], ["", 1e-7, 4]])
    write_csv(tmp_path / "r.csv", table)
    said = (tmp_path / "r.csv").read_bytes().decode("utf-8-sig")
    assert said == "of,points,safe\r\n2,2.5,'=1\r\n3,3.0,\r\n,1e-07,4\r\n"


def _read(cell: str) -> object:
    try:
        return float(cell) or ""
    except ValueError:
        return cell
