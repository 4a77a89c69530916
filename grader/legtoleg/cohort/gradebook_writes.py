"""Rows: one hand-in in the tables of nbgrader's book, written by a handful of statements."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Column
from sqlalchemy.orm import Session

from legtoleg.cohort.gradebook_cache import BookRows, CachedAssignment

NO_RESPONSE = "No response."
"""nbgrader's own comment on an answer that was left as released."""


@dataclass(frozen=True)
class MarkedNotebook:
    """What is saved of one hand-in: points by question, and which answer cells were left as released."""

    apprentice: str
    lesson: str
    points: dict[str, float]
    untouched: frozenset[str]
    timestamp: datetime | None = None


def save_rows(session: Session, paper: CachedAssignment, entry: MarkedNotebook) -> None:
    """Write ``entry``: the person, the hand-in, its grades and its comments; what was marked by hand is kept.

    nbgrader's own records do the same in ten times the time: each grade, comment and cell is a query of its own.

    Raises
    ------
    KeyError
        If ``entry`` lacks the points of a question.
    """
    from nbgrader.api import Comment, Grade

    rows = paper.rows
    points = {cell: entry.points[name] for cell, name in rows.grades.items()}
    remarks = {cell: NO_RESPONSE if name in entry.untouched else None for cell, name in rows.comments.items()}
    notebook, was_there = _notebook_of(session, rows, entry)
    grade = Grade.__table__
    known = {"needs_manual_grade": grade.c.manual_score.is_not(None)}
    new: dict[str, object] = {"needs_manual_grade": False}
    _write(session, grade.c.auto_score, notebook, points, new=new, known=known if was_there else None)
    _write(session, Comment.__table__.c.auto_comment, notebook, remarks, new={}, known={} if was_there else None)


def _notebook_of(session: Session, rows: BookRows, entry: MarkedNotebook) -> tuple[str, bool]:
    """Return the book's id of the handed-in notebook, now up to date with its time, and whether it was there before."""
    from nbgrader.api import Student, SubmittedAssignment, SubmittedNotebook, new_uuid

    person, hand_in, notebook = Student.__table__, SubmittedAssignment.__table__, SubmittedNotebook.__table__
    if session.execute(person.select().where(person.c.id == entry.apprentice)).first() is None:
        session.execute(person.insert(), {"id": entry.apprentice})
    where = (hand_in.c.assignment_id == rows.assignment, hand_in.c.student_id == entry.apprentice)
    found = session.execute(hand_in.select().where(*where)).first()
    if found is None:
        number = new_uuid()
        about = {"assignment_id": rows.assignment, "student_id": entry.apprentice, "timestamp": entry.timestamp}
        session.execute(hand_in.insert(), {"id": number, **about})
    else:
        number = found.id
        session.execute(hand_in.update().where(hand_in.c.id == number).values(timestamp=entry.timestamp))
    where = (notebook.c.assignment_id == number, notebook.c.notebook_id == rows.notebook)
    known = None if found is None else session.execute(notebook.select().where(*where)).first()
    if known is None:
        own = str(new_uuid())
        session.execute(
            notebook.insert(), {"id": own, "assignment_id": number, "notebook_id": rows.notebook, "flagged": False}
        )
        return own, False
    session.execute(notebook.update().where(notebook.c.id == known.id).values(late_submission_penalty=None))
    return str(known.id), True


def _write(
    session: Session,
    column: Column[object],
    notebook: str,
    values: Mapping[str, object],
    *,
    new: Mapping[str, object],
    known: Mapping[str, object] | None,
) -> None:
    """Write ``values`` by cell into ``column`` for ``notebook``: with ``new`` where there is no row, else ``known``.

    Without ``known`` the notebook itself is new, and the book need not be asked for its rows.
    """
    from sqlalchemy import bindparam

    table = column.table
    there: set[str] = set()
    if known is not None:
        # By cell and notebook, as the index has it: by notebook alone, the whole table would be read each time.
        mine = (table.c.cell_id.in_(values), table.c.notebook_id == notebook)
        asked = table.select().with_only_columns(table.c.cell_id).where(*mine)
        there = {row.cell_id for row in session.execute(asked)}
    fresh = [
        {"cell_id": cell, "notebook_id": notebook, column.name: value, **new}
        for cell, value in values.items()
        if cell not in there
    ]
    if fresh:
        session.execute(table.insert(), fresh)
    old = [{"which": cell, "to": value} for cell, value in values.items() if cell in there]
    if old and known is not None:
        where = (table.c.notebook_id == notebook, table.c.cell_id == bindparam("which"))
        session.execute(table.update().where(*where).values({column.name: bindparam("to"), **known}), old)
