"""The book: nbgrader's own records, written in batches that are whole or nothing, and read in one query."""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from contextlib import suppress
from datetime import datetime
from pathlib import Path

import pytest
from nbgrader.api import Gradebook, MissingEntry
from sqlalchemy import text

from legtoleg.authoring import empty_book
from legtoleg.authoring.nbgrader_api import COURSE
from legtoleg.cohort.gradebook import Book, BookError
from legtoleg.cohort.gradebook_writes import MarkedNotebook

pytestmark = pytest.mark.filterwarnings("ignore::sqlalchemy.exc.SAWarning")
LESSON = "a_lesson"
DUE = datetime(2026, 11, 23, 18, 0)


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    path = tmp_path_factory.mktemp("book") / "gradebook.db"
    empty_book.begin(f"sqlite:///{path}")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        with Gradebook(f"sqlite:///{path}", COURSE) as book:
            book.add_assignment(LESSON)
            book.add_notebook(LESSON, LESSON)
            for name, points in (("q1", 2), ("q2", 3)):
                book.add_grade_cell(name, LESSON, LESSON, max_score=points, cell_type="code")
                book.add_solution_cell(f"{name}_answer", LESSON, LESSON)
            book.add_source_cell("q1", LESSON, LESSON, source="hand_in()", cell_type="code", locked=True, checksum="c")
    return path.read_bytes()


def test_a_book_that_cannot_be_written_is_one_line(made: bytes, tmp_path: Path) -> None:
    (tmp_path / "gradebook.db").write_bytes(made)

    def write(how: str) -> None:
        with Book(f"sqlite:///{tmp_path / 'gradebook.db'}") as opened:
            opened._session.execute(text("pragma query_only = on"))
            opened.add_apprentice("ada-01", "Ada Demo") if how == "person" else opened.try_writing()

    for how in ("person", "row"):  # nbgrader wraps the complaint for a person
        with pytest.raises(BookError, match="readonly database") as said:
            write(how)
        assert "\n" not in str(said.value)
        assert "INSERT" not in str(said.value)
    (tmp_path / "gradebook.db").write_bytes(b"no database at all, " * 400)
    with pytest.raises(BookError, match="cannot be used"):
        Book(f"sqlite:///{tmp_path / 'gradebook.db'}")


@pytest.fixture
def book(made: bytes, tmp_path: Path) -> Iterator[Book]:
    (tmp_path / "gradebook.db").write_bytes(made)
    with Book(f"sqlite:///{tmp_path / 'gradebook.db'}") as opened:
        yield opened


def entry(who: str = "ada-01", first: float = 2.0, came: datetime | None = None) -> MarkedNotebook:
    return MarkedNotebook(who, LESSON, {"q1": first, "q2": 0.0}, frozenset({"q2_answer"}), came)


def test_a_lesson_is_read_as_nbgrader_asks_for_it(book: Book) -> None:
    paper = book.paper(LESSON)
    assert paper.find_notebook("anything") is paper
    assert (paper.find_source_cell("q1").source, paper.find_source_cell("q1").locked) == ("hand_in()", True)
    assert paper.find_graded_cell("q2").max_score == 3
    assert set(paper.rows.grades.values()) == {"q1", "q2"}
    assert set(paper.rows.comments.values()) == {"q1_answer", "q2_answer"}
    with pytest.raises(MissingEntry):
        paper.find_source_cell("q3")
    with pytest.raises(MissingEntry):
        book.paper("no_lesson")


def test_what_is_saved_is_read_again_and_a_second_hand_in_takes_its_place(book: Book) -> None:
    with book.batch():
        book.save(entry())
        book.save(entry("bo-02", 1.0))
    assert book.points() == {("ada-01", LESSON): {"q1": 2.0, "q2": 0.0}, ("bo-02", LESSON): {"q1": 1.0, "q2": 0.0}}
    book.save(entry(first=0.5))
    assert book.points(LESSON)["ada-01", LESSON] == {"q1": 0.5, "q2": 0.0}
    assert book.points("no_lesson") == {}


def test_a_batch_with_an_error_leaves_nothing_of_itself(book: Book) -> None:
    book.save(entry())
    with suppress(KeyError), book.batch():
        book.save(entry("bo-02"))
        book.save(MarkedNotebook("cy-03", LESSON, {}, frozenset()))
        raise AssertionError("an entry without points was saved")
    assert set(book.points()) == {("ada-01", LESSON)}
    with book.batch():
        book.save(entry("bo-02"))
    assert set(book.points()) == {("ada-01", LESSON), ("bo-02", LESSON)}


def test_late_is_counted_from_when_it_was_due(book: Book) -> None:
    book.set_due(LESSON, DUE)
    book.save(entry(came=DUE.replace(hour=20)))
    book.save(entry("bo-02", came=DUE.replace(hour=9)))
    book.save(entry("cy-03"))
    assert book.seconds_late() == {("ada-01", LESSON): 7200.0, ("bo-02", LESSON): 0.0, ("cy-03", LESSON): 0.0}


def test_names_are_entered_and_corrected(book: Book, tmp_path: Path) -> None:
    book.add_apprentice("ada-01", "Ada Marie Demo", "ada@example.org")
    book.add_apprentice("ada-01", "Ada Marie Test")
    book.add_apprentice("bo-02", "Bo")
    with Gradebook(f"sqlite:///{tmp_path / 'gradebook.db'}", COURSE) as seen:
        ada, bo = seen.find_student("ada-01"), seen.find_student("bo-02")
        assert (ada.first_name, ada.last_name, ada.email) == ("Ada Marie", "Test", "ada@example.org")
        assert (bo.first_name, bo.last_name) == ("", "Bo")


def test_a_grade_by_hand_is_kept_and_asks_to_be_looked_at(book: Book, tmp_path: Path) -> None:
    book.save(entry())
    with Gradebook(f"sqlite:///{tmp_path / 'gradebook.db'}", COURSE) as by_hand:
        grade = by_hand.find_grade("q2", LESSON, LESSON, "ada-01")
        grade.manual_score = 3.0
        by_hand.db.commit()
    with Book(f"sqlite:///{tmp_path / 'gradebook.db'}") as again:
        again.save(entry(first=1.0))
        assert again.points() == {("ada-01", LESSON): {"q1": 1.0, "q2": 3.0}}
    with Gradebook(f"sqlite:///{tmp_path / 'gradebook.db'}", COURSE) as seen:
        assert seen.find_grade("q2", LESSON, LESSON, "ada-01").needs_manual_grade
        assert seen.find_comment("q2_answer", LESSON, LESSON, "ada-01").auto_comment == "No response."


def rows_of(book: Gradebook, who: str) -> list[list[dict[str, object]]]:
    """Return the rows of one person's hand-in in every table, without the ids that are made up for each."""
    hand_in = book.find_submission(LESSON, who)
    tables = [[hand_in], hand_in.notebooks, *([*n.grades, *n.comments] for n in hand_in.notebooks)]
    own = {"id", "student_id", "notebook_id"}
    kept = [[{c.name: getattr(row, c.name) for c in row.__table__.columns} for row in table] for table in tables]
    kept[1:2] = [[{name: value for name, value in row.items() if name != "assignment_id"} for row in kept[1]]]
    plain = [[{name: value for name, value in row.items() if name not in own} for row in table] for table in kept]
    return [sorted(table, key=repr) for table in plain]


def test_what_is_saved_stands_in_the_book_as_nbgraders_own_commands_leave_it(book: Book, tmp_path: Path) -> None:
    book.save(entry("bo-02", 1.5, DUE))
    with Gradebook(f"sqlite:///{tmp_path / 'gradebook.db'}", COURSE) as stock:
        stock.add_student("ada-01")
        stock.add_submission(LESSON, "ada-01", timestamp=DUE)
        for name, points in (("q1", 1.5), ("q2", 0.0)):
            grade = stock.find_grade(name, LESSON, LESSON, "ada-01")
            grade.auto_score, grade.needs_manual_grade = points, False
        stock.find_comment("q2_answer", LESSON, LESSON, "ada-01").auto_comment = "No response."
        stock.db.commit()
        assert rows_of(stock, "bo-02") == rows_of(stock, "ada-01")


def test_a_question_that_a_lesson_gained_is_saved_for_those_marked_before(book: Book, tmp_path: Path) -> None:
    book.save(entry())
    with Gradebook(f"sqlite:///{tmp_path / 'gradebook.db'}", COURSE) as released_again:
        released_again.add_grade_cell("q3", LESSON, LESSON, max_score=1, cell_type="code")
    with Book(f"sqlite:///{tmp_path / 'gradebook.db'}") as again:
        again.save(MarkedNotebook("ada-01", LESSON, {"q1": 1.0, "q2": 0.0, "q3": 1.0}, frozenset()))
        assert again.points() == {("ada-01", LESSON): {"q1": 1.0, "q2": 0.0, "q3": 1.0}}
