"""The page “what came”: every file, whose it is, its fate, and what to do, the files that need a person first."""

from __future__ import annotations

from collections import Counter
from datetime import UTC, datetime
from pathlib import Path

from legtoleg.cohort.cohort_folder import RECEIVED
from legtoleg.collecting.arrivals import Arrival
from legtoleg.collecting.settling import FILE as SETTLE
from legtoleg.core.files import write_whole
from legtoleg.core.outside_words import plain_words
from legtoleg.core.page_templates import template
from legtoleg.intake.arrival_time import read_stamp
from legtoleg.intake.roster import Person

PAGE = "what_came.html"
FATES = {
    "counts": "Counts",
    "settled": "Settled by you",
    "known": "Came before",
    "kept": "Older: does not count",
    "untouched": "As it was given out",
    "aside": "Left as it is, by you",
    "asked": "You decide",
    "refused": "Cannot be graded",
}
_ORDER = ("asked", "refused", "counts", "settled", "kept", "known", "aside", "untouched")


def _when(stamp: str) -> str:
    when = read_stamp(stamp)
    return "" if when is None else when.astimezone().strftime("%b %d, %Y, %I:%M %p").replace(" 0", " ")


def _row(one: Arrival, names: dict[str, str]) -> dict[str, object]:
    name = names.get(one.whose, "")
    return {
        "key": one.key,
        "file": plain_words(one.file),
        "whose": f"{name} ({one.whose})" if name else one.whose,
        "lesson": one.lesson,
        "saved": _when(one.saved),
        "arrived": _when(one.arrived),
        "fate": FATES.get(one.state, one.state),
        "words": plain_words(one.what_happened, 600),
        "kept": one.kept,
        "cure": plain_words(one.cure, 600),
        "open": one.open,
    }


def what_came(arrivals: list[Arrival], people: list[Person], cohort: Path, now: datetime | None = None) -> str:
    """Return the page as HTML that stands by itself."""
    names = {person.id: person.name for person in people}
    ordered = sorted(arrivals, key=lambda one: _ORDER.index(one.state) if one.state in _ORDER else 99)
    rows = [_row(one, names) for one in ordered]
    counts = Counter(FATES.get(one.state, one.state) for one in ordered)
    when = (now or datetime.now(UTC)).astimezone()
    return template("what_came.html").render(
        opened=[row for row in rows if row["open"]],
        rest=[row for row in rows if not row["open"]],
        counts=dict(counts),
        total=len(rows),
        day=when.strftime("%b %d, %Y, %I:%M %p").replace(" 0", " "),
        cohort=plain_words(cohort.name),
        settle=SETTLE,
        commands=any(row["open"] and ": legtoleg " in str(row["cure"]) for row in rows),
        received=RECEIVED,
    )


def write_what_came(arrivals: list[Arrival], people: list[Person], cohort: Path) -> Path:
    """Write the page into the folder ``cohort`` and return where."""
    path = cohort / PAGE
    write_whole(path, what_came(arrivals, people, cohort).encode("utf-8", "replace"))
    return path
