"""Issuing: a test is composed for one person, entered in the ledger, and packed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from secrets import token_hex

import nbformat

from dryerbench.core.errors import LegToLegError
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.marks import outcomes_in
from legtoleg.core.files import write_whole
from legtoleg.intake.roster import Person
from legtoleg.ledger.corrections import in_force
from legtoleg.ledger.entry import Entry
from legtoleg.refresher.record.due_list import BETWEEN
from legtoleg.refresher.record.history import ATTEMPTS, History, Issue, history
from legtoleg.refresher.record.ledger_entry import ISSUED
from legtoleg.refresher.record.shop import Shop
from legtoleg.refresher.testing.composition import compose
from legtoleg.refresher.testing.packaging import pack
from legtoleg.refresher.testing.question_pool import PoolQuestion, pool
from legtoleg.refresher.testing.test_notebook import file_name, notebook

FOLDER = "issued"
_LONGEST = 48
_SAFETY, _LAST = 2.0, 2.0
"""How much more a missed safety question counts, and one missed in the last test."""


class HandedOverError(LegToLegError, RuntimeError):
    """A person who needs the instructor before another test."""


class OtherCourseError(LegToLegError, LookupError):
    """A test that another version of the course gave out."""


@dataclass(frozen=True)
class Issued:
    """A test that was given out: whose, its entry, where its parcel is, and whether it is only given out again."""

    person: Person
    issue: Issue
    items: list[PoolQuestion]
    parcel: Path
    notebook: Path
    again: bool


def items_of(entry: Entry) -> list[PoolQuestion]:
    """Return the questions of the test that ``entry`` gave out.

    Raises
    ------
    OtherCourseError
        If the course does not have one of them any more.
    """
    names = [str(name) for _, _, name in entry.data["items"]]
    gone = [name for name in names if name not in pool()]
    if gone:
        raise OtherCourseError(
            f"The test {entry.data['issue']} asks {gone[0]}, which this version of the course does not have. Use the "
            "version that gave it out."
        )
    return [pool()[name] for name in names]


def missed_in_lessons(shop: Shop, who: str) -> dict[str, float]:
    """Return what ``who`` missed in the lessons, by question, from the cohort that the shop's settings name, if any."""
    if not shop.settings.cohort:
        return {}
    cohort = Cohort.at((shop.folder / shop.settings.cohort).resolve())
    marked = [cohort.autograded(who, lesson) for lesson in cohort.lessons()]
    outcomes = [outcome for path in marked if path.is_file() for outcome in outcomes_in(path)]
    return {
        one.question: _SAFETY if one.safety in ("held", "open") else 1.0
        for one in outcomes
        if one.points < one.max_points or one.safety in ("held", "open")
    }


def missed_by(shop: Shop, past: History) -> dict[str, float]:
    """Return the weight of each question that somebody missed, in the lessons and in the last test."""
    missed = missed_in_lessons(shop, past.who)
    for one in past.last_missed:
        name = str(one["question"])
        missed[name] = missed.get(name, 0.0) + _LAST * (_SAFETY if one["safety"] else 1.0)
    return missed


def _asked_last(past: History) -> set[str]:
    return {str(name) for _, _, name in past.issues[-1].entry.data["items"]} if past.issues else set()


def missed_words(questions: list[dict[str, object]]) -> str:
    """Return missed questions as a person reads them."""
    names = [str(one["question"]) for one in questions]
    return BETWEEN.join(pool()[name].question.title if name in pool() else name for name in names) or "nothing"


def _new(shop: Shop, past: History) -> Issue:
    if past.next_attempt > ATTEMPTS:
        raise HandedOverError(
            f"{past.who} has tried {ATTEMPTS} times and goes to the instructor. Missed last: "
            f"{missed_words(past.last_missed)}. When they have gone through it: legtoleg refresher talked "
            f"{shop.folder} --with {past.who} --by NAME"
        )
    name = f"{past.who[:_LONGEST]}.r{token_hex(5)}"
    items = compose(name, shop.topics, missed_by(shop, past), _asked_last(past))
    listed = [[item.topic, item.lesson, item.name] for item in items]

    def unless(entries: list[Entry]) -> None:
        if history(in_force(entries), past.who).open_issue is not None:
            raise HandedOverError(f"{past.who} was given a test just now, by someone else. Look again.")

    draft = shop.draft(ISSUED, past.who, shop.today(), issue=name, attempt=past.next_attempt, items=listed)
    return Issue(shop.enter(draft, unless))


def issue(shop: Shop, who: str) -> Issued:
    """Give ``who`` a test: the one that is still open, packed again, or a new one.

    Raises
    ------
    ShopError
        If nobody of that id works here.
    HandedOverError
        If it is the instructor's turn.
    """
    person = shop.person(who)
    who = person.id
    past = history(in_force(shop.entries()), who)
    given = past.open_issue
    made = given or _new(shop, past)
    items = items_of(made.entry)
    page = notebook(made.name, who, person.name, made.entry.on, items)
    folder = shop.folder / FOLDER / made.name
    write_whole(folder / file_name(who), (str(nbformat.writes(page)) + "\n").encode("utf-8"))
    parcel = folder / f"{made.name}.zip"
    pack(made.name, who, page, parcel)
    return Issued(person, made, items, parcel, folder / file_name(who), again=given is not None)


def covered(items: list[PoolQuestion], topics: Mapping[str, object]) -> list[str]:
    """Return the topics that ``items`` ask about, in the order of ``topics``."""
    asked = {item.topic for item in items}
    return [name for name in topics if name in asked]
