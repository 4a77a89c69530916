"""Mending: what somebody deleted or damaged in a cohort's folder is made again from what is left, and said in lines.

The book is made again from the released lessons, the roster, the graded notebooks and the times of the hand-ins. What
stood in the book alone is gone with it: points that a person gave by hand in nbgrader's own pages.
"""

from __future__ import annotations

import sqlite3
import warnings
from collections.abc import Iterable, Iterator
from contextlib import closing, suppress
from itertools import count
from pathlib import Path

import nbformat

from dryerbench.core.identity import MOST_TRIES, TRIES
from legtoleg.authoring.nbgrader_api import release
from legtoleg.cohort.cohort_config import due_dates
from legtoleg.cohort.cohort_folder import RECEIVED, UNCLEAR, Cohort
from legtoleg.cohort.gradebook import Book
from legtoleg.cohort.gradebook_writes import MarkedNotebook
from legtoleg.cohort.marking_cache import MarkingCache
from legtoleg.cohort.marks import outcomes_of, untouched_answers
from legtoleg.cohort.signed_off_note import kept
from legtoleg.core.paths import lesson_names
from legtoleg.core.try_ledger import TryLedger
from legtoleg.intake.roster import RosterError
from legtoleg.intake.submissions import HandIn, HandInError

MADE_AGAIN = "the folder of tries was lost"
_FILE = "sqlite:///"
_LESSONS = (
    "SELECT assignment.name FROM assignment JOIN notebook ON notebook.assignment_id = assignment.id "
    "WHERE EXISTS (SELECT 1 FROM source_cell WHERE source_cell.notebook_id = notebook.id)"
)
_ONLY_THERE = "Points that were given by hand in nbgrader's own pages were in the lost one alone."


def mend(cohort: Cohort) -> list[str]:
    """Make again what is lost or damaged in ``cohort``: its book, its released lessons, its tries; return it in lines.

    Hand-ins that are gone cannot be made again; a line says so.

    Raises
    ------
    NbgraderError
        If nbgrader cannot release a lesson again.
    """
    book = book_file(cohort)
    if book is None:
        return [*_releases(cohort), *_tries(cohort), *lost_hand_ins(cohort)]
    was_there, aside = book.is_file(), ""
    try:
        held = lessons_in(book)
    except sqlite3.OperationalError:  # in use, or not ours to read: whoever opens it next says so
        return []
    except sqlite3.DatabaseError:
        held, aside = set(), _put_aside(book)
    if not was_there:
        _journals(book, book.with_name(f"{book.stem}-lost{book.suffix}"))
    said = list(_releases(cohort))
    lost = sorted(set(cohort.lessons()) - held)
    if lost:
        graded = _graded(cohort, lost)
        people = _enter(cohort, lost, graded)
        said += _book_words(aside, was_there=was_there, counts=(len(lost), people, len(graded)))
    return [*said, *_tries(cohort), *lost_hand_ins(cohort)]


def lost_hand_ins(cohort: Cohort) -> list[str]:
    """Return in one line that graded hand-ins are not there any more, and what to do; nothing if all are there."""
    graded = [path.parts[-3:-1] for path in (cohort.folder / "autograded").glob("*/*/*.ipynb")]
    lost = [(who, lesson) for who, lesson in graded if not cohort.submitted(who, lesson).is_file()]
    gone, received = not (cohort.folder / "submitted").is_dir(), cohort.folder / RECEIVED
    if lost:
        kept = any(next((received / who).glob(f"{lesson}-*.ipynb"), None) for who, lesson in lost)
    else:
        kept = gone and any(path.parent.name != UNCLEAR for path in received.glob("*/*.ipynb"))
    if not lost and not kept:
        return []
    what = "The folder submitted is gone." if gone else "Hand-ins are gone from the folder submitted."
    grades = f" The grades of {_count(len(lost), 'hand-in')} still count." if lost else ""
    name = cohort.folder.name
    again = f"Take the files in again: legtoleg collect {name} {name}/{RECEIVED}."
    backup = "Put the hand-ins back from a backup: without them nothing can be graded again."
    return [f"{what}{grades} {again if kept else backup}"]


def book_file(cohort: Cohort) -> Path | None:
    """Return the file of the book; None if the book is not a file."""
    address = cohort.book
    return Path(address.removeprefix(_FILE)) if address.startswith(_FILE) else None


def lessons_in(book: Path) -> set[str]:
    """Return the lessons that the file ``book`` holds whole; none if there is no such file or it is empty.

    Raises
    ------
    sqlite3.DatabaseError
        If the file is damaged, or no book.
    """
    if not book.is_file() or not book.stat().st_size:
        return set()
    with closing(sqlite3.connect(book)) as there:
        (found,) = there.execute("PRAGMA quick_check(1)").fetchone()
        if found != "ok":
            raise sqlite3.DatabaseError(str(found))
        tables = {name for (name,) in there.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
        if not {"assignment", "notebook", "source_cell"} <= tables:
            return set()
        return {str(name) for (name,) in there.execute(_LESSONS)}


def _put_aside(book: Path) -> str:
    """Give a damaged book another name, and return it."""
    names = (book.with_name(f"{book.stem}-damaged-{number}{book.suffix}") for number in count(1))
    aside = next(path for path in names if not path.exists())
    book.rename(aside)
    _journals(book, aside)
    return aside.name


def _journals(book: Path, aside: Path) -> None:
    """Move what SQLite kept beside ``book`` to ``aside``, so that it is not taken for that of the new one."""
    for ending in ("-journal", "-wal", "-shm"):
        with suppress(FileNotFoundError):
            book.with_name(book.name + ending).replace(aside.with_name(aside.name + ending))


def _releases(cohort: Cohort) -> Iterator[str]:
    """Release again each lesson that this cohort had and has not now; yield what is to be said."""
    lost = sorted(_had(cohort) - set(cohort.lessons()))
    own = [lesson for lesson in lost if (cohort.folder / "source" / lesson / f"{lesson}.ipynb").is_file()]
    ours = [lesson for lesson in lesson_names() if lesson in lost and lesson not in own] if own != lost else []
    for lesson in own:
        cohort.run("generate_assignment", lesson, force=True, create=True)
    for lesson in ours:
        release(cohort.config(), lesson)
    for lessons, what in ((own, "the cohort's folder source"), (ours, "this version of the course")):
        if lessons:
            yield f"Released notebooks were gone. They were made again from {what}: {', '.join(lessons)}."


def _had(cohort: Cohort) -> set[str]:
    """Return the lessons of which there is a source, or a hand-in that was graded."""
    folder = cohort.folder
    sources = {path.parent.name for path in (folder / "source").glob("*/*.ipynb")}
    return sources | {path.parent.name for path in (folder / "autograded").glob("*/*/*.ipynb")}


def _book_words(aside: str, *, was_there: bool, counts: tuple[int, int, int]) -> list[str]:
    """Return what is to be said of a book that was made again; ``counts`` are of lessons, people and hand-ins."""
    names = ("lesson", "apprentice", "graded hand-in")
    what = ", ".join(_count(number, name) for number, name in zip(counts, names, strict=True))
    if aside:
        said = f"The grade book was damaged. It is kept as {aside}. A new one was made from the cohort's files: {what}."
    elif was_there:
        said = f"The grade book lacked lessons. They were entered from the cohort's files: {what}."
    else:
        said = f"The grade book was gone. A new one was made from the cohort's files: {what}."
    return [said, _ONLY_THERE] if counts[2] else [said]


def _count(number: int, what: str) -> str:
    return f"{number} {what}{'s' * (number != 1)}"


def _enter(cohort: Cohort, lessons: list[str], graded: list[MarkedNotebook]) -> int:
    """Enter ``lessons`` as released, the people on the roster, due dates, and what is ``graded``; return how many."""
    try:
        people = cohort.people()
    except RosterError:
        people = []
    due, again = due_dates(cohort.folder), MarkingCache(cohort.folder)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # nbgrader's own, about its book
        with Book(cohort.book) as book:
            for person in people:
                book.add_apprentice(person.id, person.name, person.mail)
            for lesson in lessons:
                book.add_lesson(lesson, due.get(lesson))
        for lesson in lessons:
            _save_cells(cohort, lesson)
    with Book(cohort.book) as book:
        for one in graded:
            try:
                with book.batch():
                    book.save(one)
            except KeyError:  # graded by another version of the lesson
                again.forget(one.apprentice, one.lesson)
    return len({person.id for person in people} | {one.apprentice for one in graded})


def _save_cells(cohort: Cohort, lesson: str) -> None:
    """Enter the cells of a lesson as its released notebook has them, by nbgrader's own step."""
    from nbgrader.preprocessors import SaveCells

    notebook = nbformat.read(cohort.released(lesson), as_version=4)
    about = {"student": ".", "assignment": lesson, "notebook": lesson, "db_url": cohort.book}
    step = SaveCells()
    step.log.setLevel("ERROR")
    step.preprocess(notebook, {"nbgrader": about})


def _graded(cohort: Cohort, lessons: Iterable[str]) -> list[MarkedNotebook]:
    """Return what the graded notebooks of ``lessons`` say; one that cannot be read is to be graded again."""
    found = []
    for lesson in lessons:
        for path in sorted((cohort.folder / "autograded").glob(f"*/{lesson}/{lesson}.ipynb")):
            who = path.parts[-3]
            try:
                notebook = nbformat.reads(path.read_text(encoding="utf-8"), as_version=4)
                points = {outcome.question: outcome.points for outcome in outcomes_of(notebook)}
                untouched = frozenset(untouched_answers(notebook))
            except (OSError, ValueError, LookupError, TypeError, AttributeError, RecursionError):
                MarkingCache(cohort.folder).forget(who, lesson)
                continue
            when = None
            with suppress(HandInError):
                when = HandIn(who, lesson, cohort.submitted(who, lesson)).timestamp()
            found.append(MarkedNotebook(who, lesson, points, untouched, when))
    return found


def _tries(cohort: Cohort) -> Iterator[str]:
    """Deal again, in the ledger of tries, the cards that the notes beside the feedback know of; yield what to say."""
    ledger, again = TryLedger(cohort.folder), 0
    for path in sorted((cohort.folder / "feedback").glob(f"*/{TRIES}")):
        for lesson, number in kept(path, int).items():
            who = path.parent.name, lesson
            before = ledger.current(*who)
            for _ in range(before, min(number, MOST_TRIES)):
                ledger.deal(*who, MADE_AGAIN)
            again += number > before
    if again:
        were = "card dealt anew was" if again == 1 else "cards dealt anew were"
        yield f"{again} {were} missing in the folder tries, and entered again from the feedback."
