"""What was deleted or damaged in a cohort's folder is made again, and said."""

from __future__ import annotations

import shutil
import sqlite3
from datetime import datetime
from pathlib import Path

import nbformat
import pytest

from dryerbench.core.identity import TRIES
from legtoleg.cohort.cohort_config import due_dates, note_due
from legtoleg.cohort.cohort_folder import RECEIVED, UNCLEAR, Cohort
from legtoleg.cohort.gradebook import Book
from legtoleg.cohort.gradebook_writes import MarkedNotebook
from legtoleg.cohort.mending import MADE_AGAIN, lessons_in, lost_hand_ins, mend
from legtoleg.cohort.signed_off_note import note_try
from legtoleg.core.files import write_whole
from legtoleg.core.try_ledger import TryLedger
from legtoleg.marking.outcomes import MIME
from legtoleg.report.marks_reading import read_marks

WHO = "ada-01"
_CELLS = "SELECT name, cell_type, locked, source, checksum FROM source_cell ORDER BY name"


def graded(cohort: Cohort, lesson: str) -> dict[str, float]:
    """Hand in ``lesson``, put it graded into ``cohort``, one point for each question, and enter it in the book."""
    write_whole(cohort.submitted(WHO, lesson), cohort.released(lesson).read_bytes())
    notebook = nbformat.read(cohort.released(lesson), as_version=4)
    points = {}
    for cell in notebook.cells:
        about = cell.metadata.get("nbgrader", {})
        if about.get("grade"):
            name = about["grade_id"]
            points[name] = 1.0
            data = {"question": name, "points": 1.0, "max_points": 2, "note": "right", "message": "Right."}
            cell.outputs = [nbformat.v4.new_output("display_data", {MIME: data})]
    write_whole(cohort.autograded(WHO, lesson), nbformat.writes(notebook).encode("utf-8"))
    with Book(cohort.book) as book:
        book.save(MarkedNotebook(WHO, lesson, points, frozenset()))
    return points


def in_book(cohort: Cohort) -> dict[tuple[str, str], dict[str, float]]:
    """Return the points that the book holds."""
    with Book(cohort.book) as book:
        return book.points()


def cells(cohort: Cohort) -> list[tuple[object, ...]]:
    """Return the cells of the released lessons as the book holds them."""
    with sqlite3.connect(cohort.folder / "gradebook.db") as there:
        return there.execute(_CELLS).fetchall()


def test_a_whole_cohort_is_left_alone(fresh: Cohort) -> None:
    before = (fresh.folder / "gradebook.db").read_bytes()
    assert mend(fresh) == []
    assert (fresh.folder / "gradebook.db").read_bytes() == before


@pytest.mark.parametrize("damage", ["gone", "empty", "cut", "text"])
def test_a_lost_book_is_made_again(fresh: Cohort, damage: str) -> None:
    lesson = fresh.lessons()[0]
    points, before = graded(fresh, lesson), cells(fresh)
    book = fresh.folder / "gradebook.db"
    whole = book.read_bytes()
    bad = {"empty": b"", "cut": whole[:50_000], "text": b"my notes"}
    if damage == "gone":
        book.unlink()
    else:
        book.write_bytes(bad[damage])
    note_due(fresh.folder, {lesson: datetime(2026, 12, 1, 22, 59)})
    said = mend(fresh)
    assert len(said) == 2
    assert "by hand" in said[1]
    assert in_book(fresh) == {(WHO, lesson): points}
    assert cells(fresh) == before
    assert due_dates(fresh.folder) == {lesson: datetime(2026, 12, 1, 22, 59)}
    kept = sorted(path.name for path in fresh.folder.glob("gradebook-damaged-*"))
    assert kept == (["gradebook-damaged-1.db"] if damage in ("cut", "text") else [])
    if kept:
        assert (fresh.folder / kept[0]).read_bytes() == bad[damage]
        assert kept[0] in said[0]
    assert mend(fresh) == []


def test_what_sqlite_left_beside_a_lost_book_is_not_taken_for_the_new_one(fresh: Cohort) -> None:
    (fresh.folder / "gradebook.db").unlink()
    (fresh.folder / "gradebook.db-journal").write_bytes(b"old")
    mend(fresh)
    assert not (fresh.folder / "gradebook.db-journal").exists()
    assert (fresh.folder / "gradebook-lost.db-journal").read_bytes() == b"old"


@pytest.mark.parametrize("also", ["", "gradebook.db"])
def test_a_lost_release_is_made_again_as_it_was(fresh: Cohort, also: str) -> None:
    lesson = fresh.lessons()[0]
    points, before = graded(fresh, lesson), fresh.released(lesson).read_bytes()
    shutil.rmtree(fresh.folder / "release" / lesson)
    if also:
        (fresh.folder / also).unlink()
    said = mend(fresh)
    assert lesson in said[0]
    assert fresh.released(lesson).read_bytes() == before
    assert in_book(fresh) == {(WHO, lesson): points}


def test_lost_tries_are_dealt_again_from_the_feedback(fresh: Cohort) -> None:
    lesson = fresh.lessons()[0]
    note_try(fresh.folder / "feedback" / WHO, lesson, 3)
    assert (fresh.folder / "feedback" / WHO / TRIES).is_file()
    said = mend(fresh)
    assert len(said) == 1
    assert [deal.why for deal in TryLedger(fresh.folder).deals(WHO, lesson)] == [MADE_AGAIN] * 2
    assert mend(fresh) == []


def test_the_report_says_that_the_book_is_gone_and_makes_none(fresh: Cohort) -> None:
    graded(fresh, fresh.lessons()[0])
    (fresh.folder / "gradebook.db").unlink()
    (said,) = read_marks(fresh).troubles
    assert said.startswith("The grade book is gone")
    assert "legtoleg mark" in said
    assert not (fresh.folder / "gradebook.db").exists()


def test_no_book_holds_no_lesson(tmp_path: Path) -> None:
    assert lessons_in(tmp_path / "none.db") == set()
    assert not (tmp_path / "none.db").exists()


def lose(cohort: Cohort, kept: str = "") -> None:
    """Delete the folder of hand-ins; with ``kept`` a copy of one is among what was received, as that person's."""
    lesson = cohort.lessons()[0]
    if kept:
        write_whole(cohort.folder / RECEIVED / kept / f"{lesson}-0.ipynb", cohort.released(lesson).read_bytes())
    shutil.rmtree(cohort.folder / "submitted", ignore_errors=True)


def test_lost_hand_ins_are_said_in_one_line_with_what_to_do(fresh: Cohort) -> None:
    graded(fresh, fresh.lessons()[0])
    assert mend(fresh) == []
    lose(fresh)
    backup = "Put the hand-ins back from a backup: without them nothing can be graded again."
    assert mend(fresh) == [f"The folder submitted is gone. The grades of 1 hand-in still count. {backup}"]
    lose(fresh, WHO)
    again = "Take the files in again: legtoleg collect cohort cohort/received."
    assert mend(fresh) == [f"The folder submitted is gone. The grades of 1 hand-in still count. {again}"]
    (fresh.folder / "submitted").mkdir()
    assert mend(fresh) == [f"Hand-ins are gone from the folder submitted. The grades of 1 hand-in still count. {again}"]


def test_hand_ins_that_were_never_graded_are_missed_too(fresh: Cohort) -> None:
    lose(fresh, UNCLEAR)
    assert lost_hand_ins(fresh) == []
    lose(fresh, WHO)
    (line,) = lost_hand_ins(fresh)
    assert line == "The folder submitted is gone. Take the files in again: legtoleg collect cohort cohort/received."
