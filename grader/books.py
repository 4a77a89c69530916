"""The book: nbgrader's grade book, opened once, written in batches through its own records."""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Self

COURSE = "leg_to_leg"


@dataclass(frozen=True)
class BookCell:
    """What the book knows of one cell of a lesson: its source as released, or what it is worth."""

    name: str
    cell_type: str = "code"
    locked: bool = False
    source: str = ""
    checksum: str = ""
    max_score: float = 0.0


@dataclass(frozen=True)
class Paper:
    """One lesson as the book holds it, read once; answers what nbgrader's ``OverwriteCells`` asks a grade book."""

    source_cells: tuple[BookCell, ...]
    grade_cells: tuple[BookCell, ...]
    solution_cells: tuple[BookCell, ...]
    task_cells: tuple[BookCell, ...]
    names: dict[str, str]
    """The name of each graded or answer cell by the book's own id of it."""

    def find_notebook(self, *_: str) -> Paper:
        """Return this lesson."""
        return self

    def find_source_cell(self, name: str, *_: str) -> BookCell:
        """Return a cell as released.

        Raises
        ------
        MissingEntry
            If the lesson has none of that name.
        """
        return _named(self.source_cells, name)

    def find_graded_cell(self, name: str, *_: str) -> BookCell:
        """Return what a graded cell is worth.

        Raises
        ------
        MissingEntry
            If the lesson has none of that name.
        """
        return _named((*self.grade_cells, *self.task_cells), name)


def _named(cells: tuple[BookCell, ...], name: str) -> BookCell:
    from nbgrader.api import MissingEntry  # noqa: PLC0415 - its import alone takes two seconds

    for cell in cells:
        if cell.name == name:
            return cell
    raise MissingEntry(f"no cell {name}")


@dataclass(frozen=True)
class Entry:
    """What is saved of one hand-in: points by question, and which answer cells were left as released."""

    apprentice: str
    lesson: str
    points: dict[str, float]
    untouched: frozenset[str]
    timestamp: datetime | None = None


class Book:
    """The grade book at a SQLAlchemy address. Use it as a context manager."""

    def __init__(self, url: str) -> None:
        from nbgrader.api import Gradebook  # noqa: PLC0415 - its import alone takes two seconds

        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # nbgrader's own, about its book; nothing an instructor can act on
            self._gradebook = Gradebook(url, COURSE)
        self._session = self._gradebook.db
        self._session().expire_on_commit = False
        self._papers: dict[str, Paper] = {}

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._gradebook.close()

    @contextmanager
    def batch(self) -> Iterator[None]:
        """Save all that is saved inside at once at its end, or, after an error, nothing of it."""
        session = self._session
        commit = session.commit
        session.commit = session.flush
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("ignore")
                yield
            commit()
        except BaseException:
            session.rollback()
            raise
        finally:
            session.commit = commit

    def paper(self, lesson: str) -> Paper:
        """Return ``lesson`` as the book holds it.

        Raises
        ------
        MissingEntry
            If the book has no such lesson.
        """
        if lesson not in self._papers:
            self._papers[lesson] = _read_paper(self._gradebook.find_notebook(lesson, lesson))
        return self._papers[lesson]

    def add_apprentice(self, apprentice: str, name: str = "", mail: str = "") -> None:
        """Enter a person, or correct their name and mail."""
        first, _, last = name.strip().rpartition(" ")
        known = {"first_name": first or last, "last_name": last if first else "", "email": mail}
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            self._gradebook.update_or_create_student(
                apprentice, **{key: value for key, value in known.items() if value}
            )

    def set_due(self, lesson: str, due: datetime) -> None:
        """Set when ``lesson`` is due, a time in UTC without zone."""
        self._gradebook.update_or_create_assignment(lesson, duedate=due)

    def save(self, entry: Entry) -> None:
        """Save one hand-in as nbgrader's own ``SaveAutoGrades`` and ``AssignLatePenalties`` do."""
        from nbgrader.api import Comment, Grade  # noqa: PLC0415

        book, lesson, who = self._gradebook, entry.lesson, entry.apprentice
        book.update_or_create_student(who)
        submission = book.update_or_create_submission(lesson, who, timestamp=entry.timestamp)
        names = self.paper(lesson).names
        for notebook in submission.notebooks:
            notebook.late_submission_penalty = None
            for grade in self._session.query(Grade).filter(Grade.notebook_id == notebook.id):
                grade.auto_score = entry.points[names[grade.cell_id]]
                grade.needs_manual_grade = grade.manual_score is not None
            for comment in self._session.query(Comment).filter(Comment.notebook_id == notebook.id):
                same = names[comment.cell_id] in entry.untouched
                comment.auto_comment = "No response." if same else None
        self._session.commit()

    def points(self, lesson: str | None = None) -> dict[tuple[str, str], dict[str, float]]:
        """Return the points of every question by apprentice and lesson, read in one query."""
        from nbgrader.api import Assignment, Grade, GradeCell, SubmittedAssignment, SubmittedNotebook  # noqa: PLC0415

        asked = (
            self._session.query(SubmittedAssignment.student_id, Assignment.name, GradeCell.name, Grade.score)
            .select_from(Grade)
            .join(SubmittedNotebook, Grade.notebook_id == SubmittedNotebook.id)
            .join(SubmittedAssignment, SubmittedNotebook.assignment_id == SubmittedAssignment.id)
            .join(Assignment, SubmittedAssignment.assignment_id == Assignment.id)
            .join(GradeCell, Grade.cell_id == GradeCell.id)
        )
        if lesson is not None:
            asked = asked.filter(Assignment.name == lesson)
        found: dict[tuple[str, str], dict[str, float]] = {}
        for who, what, question, score in asked:
            found.setdefault((who, what), {})[question] = float(score)
        return found

    def seconds_late(self) -> dict[tuple[str, str], float]:
        """Return how late each hand-in came, in seconds, by apprentice and lesson; 0 is on time."""
        from nbgrader.api import SubmittedAssignment  # noqa: PLC0415

        return {
            (hand_in.student_id, hand_in.name): float(hand_in.total_seconds_late)
            for hand_in in self._session.query(SubmittedAssignment)
        }


def _read_paper(notebook: Any) -> Paper:
    source = tuple(
        BookCell(cell.name, cell.cell_type, cell.locked, cell.source, cell.checksum) for cell in notebook.source_cells
    )
    grades = tuple(BookCell(cell.name, cell.cell_type, max_score=cell.max_score) for cell in notebook.grade_cells)
    tasks = tuple(BookCell(cell.name, cell.cell_type, max_score=cell.max_score) for cell in notebook.task_cells)
    answers = tuple(BookCell(cell.name) for cell in notebook.solution_cells)
    kept = (*notebook.grade_cells, *notebook.solution_cells, *notebook.task_cells)
    return Paper(source, grades, answers, tasks, {cell.id: cell.name for cell in kept})
