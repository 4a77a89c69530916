"""Reading: the marks of a cohort, each marked notebook opened once; what cannot be read is one line, not the end."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from nbformat.notebooknode import NotebookNode

from dryerbench.core.errors import LegToLegError
from dryerbench.registry import SHEETS
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.gradebook import Book, BookError
from legtoleg.cohort.marks import Mark, agreed
from legtoleg.cohort.mending import book_file
from legtoleg.core.outside_words import plain_words
from legtoleg.report.answer_cells import Paper, paper_of
from legtoleg.report.hand_in_fates import Who

_DAMAGE = (OSError, ValueError, LookupError, TypeError, AttributeError, RecursionError)
"""What reading a marked notebook ends in that was changed or cut."""
AGAIN = "Grade it again: legtoleg mark --again."
_WITHOUT = (
    "the points here are those of the graded notebooks, and how late a hand-in came is not known. "
    "Run “legtoleg mark” on this cohort: it makes a lost or damaged book again from the cohort's files."
)


@dataclass
class MarksRead:
    """What was read: marks, papers for the facts, seconds late by id and lesson, and in words what could not be."""

    marks: list[Mark] = field(default_factory=list)
    papers: list[Paper] = field(default_factory=list)
    late: dict[Who, float] = field(default_factory=dict)
    troubles: list[str] = field(default_factory=list)


def read_marks(cohort: Cohort) -> MarksRead:
    """Return the marks of every hand-in that is marked, by lesson and apprentice."""
    found = MarksRead()
    points = _book(cohort, found)
    strange: dict[str, int] = {}
    for who in _marked(cohort, points):
        if who[1] not in SHEETS:
            strange[who[1]] = strange.get(who[1], 0) + 1
            continue
        try:
            marks, paper = _one(cohort, who, points)
        except LegToLegError as error:
            found.troubles.append(str(error))
        except _DAMAGE as error:
            found.troubles.append(f"{_named(who)}: the grades cannot be read ({_why(error)}). {AGAIN}")
        else:
            found.marks += marks
            found.papers.append(paper)
    found.troubles += [
        f"{plain_words(lesson, 80)}: this version of the course has no such lesson; {count} graded "
        f"hand-in{'s' * (count != 1)} of it {'are' if count != 1 else 'is'} left out."
        for lesson, count in sorted(strange.items())
    ]
    return found


def _book(cohort: Cohort, found: MarksRead) -> dict[Who, dict[str, float]] | None:
    """Return the points in the book; None, said in words, if it cannot be read: marked notebooks have them too."""
    file = book_file(cohort)
    if file is not None and not file.is_file() and any(_marked(cohort, None)):
        found.troubles.append(f"The grade book is gone: {_WITHOUT}")
        return None
    try:
        with Book(cohort.book) as book:
            points = book.points()
            found.late = book.seconds_late()
    except (BookError, OSError, ValueError, RuntimeError) as error:
        found.troubles.append(f"The grade book cannot be read ({_why(error)}): {_WITHOUT}")
        return None
    return points


def _marked(cohort: Cohort, points: Mapping[Who, object] | None) -> Iterator[Who]:
    there = {(path.parts[-3], path.parts[-2]) for path in (cohort.folder / "autograded").glob("*/*/*.ipynb")
             if path.stem == path.parent.name}  # fmt: skip
    yield from sorted(there | set(points or {}), key=lambda who: (who[1], who[0]))


def _one(cohort: Cohort, who: Who, points: Mapping[Who, dict[str, float]] | None) -> tuple[list[Mark], Paper]:
    """Return the marks and the answer cells of one hand-in.

    Raises
    ------
    LegToLegError
        If the book and the marked notebook do not fit each other; the text says how.
    """
    path = cohort.autograded(*who)
    if not path.is_file():
        raise LegToLegError(f"{_named(who)}: the book has points, but the graded notebook is gone. {AGAIN}")
    if points is not None and who not in points:
        raise LegToLegError(f"{_named(who)}: there is a graded notebook, but the book has no points. {AGAIN}")
    notebook = _json(path)
    marks = agreed(*who, notebook, None if points is None else points[who])
    if not marks:
        raise LegToLegError(f"{_named(who)}: the graded notebook holds no points. {AGAIN}")
    return marks, paper_of(notebook, *who)


def _json(path: Path) -> NotebookNode:
    return json.loads(path.read_text(encoding="utf-8"))


def _named(who: Who) -> str:
    return plain_words(", ".join(who), 120)


def _why(error: Exception) -> str:
    said = error.strerror if isinstance(error, OSError) and error.strerror else str(getattr(error, "orig", error))
    return plain_words(f"{type(error).__name__}: {said}" if not isinstance(error, OSError) else said, 160)


def released(cohort: Cohort, lesson: str, read: Callable[[NotebookNode], dict[str, str]]) -> dict[str, str]:
    """Return what ``read`` finds in the released notebook of ``lesson``; nothing if it is gone or damaged."""
    try:
        return read(_json(cohort.released(lesson)))
    except _DAMAGE:
        return {}
