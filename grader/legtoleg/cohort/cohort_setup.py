"""Setting up: from a roster to a cohort's folder, its book, and a kit for everybody."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from pathlib import Path

from dryerbench.core.errors import LegToLegError
from legtoleg.cohort import cohort_config
from legtoleg.cohort.cohort_folder import ROSTER, Cohort
from legtoleg.cohort.gradebook import Book
from legtoleg.cohort.kit import kit_name, pack
from legtoleg.cohort.mending import mend
from legtoleg.core.files import write_whole
from legtoleg.core.lesson_choice import lesson_called
from legtoleg.core.paths import lesson_names
from legtoleg.intake.roster import Person, read_roster, roster_text

KITS = "kits"


class DueDateError(LegToLegError, ValueError):
    """A due date that cannot be read."""


@dataclass(frozen=True)
class SetUp:
    """What was made: the cohort, its people, and how many of them are new."""

    cohort: Cohort
    people: list[Person]
    new: int
    gone: list[str]
    """Ids that were on the roster before and are not now; what they handed in stays."""
    left: list[str]
    """Ids of those who have left by today: nothing is packed for them."""
    mended: list[str]
    """What was lost or damaged in the folder and was made again, in lines."""


def read_due(text: str, lessons: list[str]) -> dict[str, datetime]:
    """Return when lessons are due, in UTC without zone, from ``2026-12-01`` or ``3=2026-12-01T17:00``.

    A date alone means its end, 23:59, on this computer's clock.

    Raises
    ------
    DueDateError
        If it is no date, or there is no such lesson.
    """
    said, _, day = text.rpartition("=")
    name = lesson_called(said, lessons, DueDateError) if said else ""
    try:
        due = datetime.fromisoformat(day.strip())
    except ValueError:
        raise DueDateError(f"{day!r:.40} is not a date. Write it like 2026-12-01 or 2026-12-01T17:00.") from None
    if "T" not in day and ":" not in day:
        due = datetime.combine(due.date(), time(23, 59))
    utc = due.astimezone(UTC).replace(tzinfo=None)
    return dict.fromkeys([name] if name else lessons, utc)


def set_up(
    folder: Path,
    roster: Path,
    *,
    book: str = "",
    due: list[str] | None = None,
    tell: Callable[[str, int, int], None] = lambda *_: None,
    today: date | None = None,
) -> SetUp:
    """Make or complete the cohort in ``folder`` for the people in the file ``roster``; what is there stays.

    Raises
    ------
    RosterError
        If the roster cannot be used.
    DueDateError
        If a due date cannot be used.
    CohortError
        If nbgrader cannot make a release.
    """
    people, lessons = read_roster(roster), lesson_names()
    day = today or datetime.now().astimezone().date()
    left = [person.id for person in people if person.gone(day)]
    dates = {key: value for text in due or [] for key, value in read_due(text, lessons).items()}
    steps = len(people) + 2
    tell("releasing the lessons", 0, steps)
    mended = mend(Cohort.at(folder)) if (folder / cohort_config.FILE).is_file() else []
    if book:
        with Book(book) as there:
            there.try_writing()
    cohort = Cohort.make(folder, lessons, book)
    before = {person.id for person in cohort.people()}
    tell("writing the book", 1, steps)
    _enter(cohort, people, dates)
    write_whole(cohort.folder / ROSTER, roster_text(people).encode("utf-8"))
    for number, person in enumerate(people, 2):
        tell(f"kit of {person.id}", number, steps)
        if person.id not in left and not (cohort.folder / KITS / kit_name(person.id, person.name)).is_file():
            pack(person.id, cohort.folder / KITS, person.name)
    tell("done", steps, steps)
    now = {person.id for person in people}
    return SetUp(cohort, people, len(now - before), sorted(before - now), left, mended)


def _enter(cohort: Cohort, people: list[Person], dates: dict[str, datetime]) -> None:
    with Book(cohort.book) as book, book.batch():
        for person in people:
            book.add_apprentice(person.id, person.name, person.mail)
        for lesson, due in dates.items():
            book.set_due(lesson, due)
    cohort_config.note_due(cohort.folder, dates)
