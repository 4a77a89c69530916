"""Dues: everybody's standing on a day, sorted by what has to be done first."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from legtoleg.intake.roster import Person
from legtoleg.ledger.corrections import in_force
from legtoleg.ledger.entry import OPENED, Entry
from legtoleg.refresher.record.history import History, history
from legtoleg.refresher.record.safety_topics import Topic
from legtoleg.refresher.record.shop import Shop, zone_named
from legtoleg.refresher.record.standing import CURRENT, DUE, NEVER, OVERDUE, Standing, may_work, standings

_FEW = 3
BETWEEN = " · "
"""What parts titles in a line: no title holds it."""
ORDER = (OVERDUE, NEVER, DUE, CURRENT)


@dataclass(frozen=True)
class PersonDue:
    """One person: their history, and where they stand in every topic."""

    person: Person
    past: History
    found: list[Standing]
    changes: int = 0
    """How many entries of the ledger are about this person, counting or not: it only ever grows."""
    changed: date | None = None
    """The day of the shop on which the last of them was entered."""

    @property
    def may_work(self) -> bool:
        """Tell whether every safety-critical topic is good."""
        return may_work(self.found)

    def groups(self) -> Iterator[DueLine]:
        """Yield what stands alike, as one line each, what is most pressing first."""
        alike: dict[tuple[str, date | None, bool], list[Standing]] = {}
        for one in self.found:
            alike.setdefault((one.state, one.until, one.called), []).append(one)
        for key in sorted(alike, key=lambda key: (ORDER.index(key[0]), key[1] or date.max)):
            (state, until, _), found = key, alike[key]
            reason = "; ".join(dict.fromkeys(one.reason for one in found))
            yield DueLine(self.person, state, until, reason, found)


@dataclass(frozen=True)
class DueLine:
    """Topics of one person that stand alike."""

    person: Person
    state: str
    until: date | None
    reason: str
    found: list[Standing]

    @property
    def when(self) -> str:
        """The day of it in words: the last good one, or since when it is due at once."""
        if self.until is None:
            return "–"
        return f"{'since' if self.found[0].called else 'until'} {self.until}"

    def topics(self, everything: Mapping[str, Topic]) -> str:
        """Return its topics in words, out of all there are; a title may hold any mark, so a dot in the middle parts."""
        titles = {one.topic.title for one in self.found}
        critical = [topic.title for topic in everything.values() if topic.critical]
        left = [title for title in critical if title not in titles]
        if len(titles) == len(everything):
            return "all topics"
        if len(left) > len(critical) // 2 or (left and len(self.found) <= _FEW):
            return BETWEEN.join(f"{'⚠ ' if one.topic.critical else ''}{one.topic.title}" for one in self.found)
        others = [one.topic.title for one in self.found if not one.topic.critical]
        but = f" (not {BETWEEN.join(left)})" if left else ""
        return BETWEEN.join([f"⚠ all safety-critical topics{but}", *others])

    @property
    def critical(self) -> bool:
        """Tell whether a safety-critical topic is among them."""
        return any(one.topic.critical for one in self.found)


@dataclass(frozen=True)
class DueRow:
    """One person and what stands alike, the most pressing first; of what is current, what ends first."""

    person: Person
    lines: list[DueLine]


def _first(lines: Sequence[DueLine]) -> str:
    count = sum(len(line.found) for line in lines)
    return f"first of {count} current topics to end" if lines[0].until else lines[0].reason


@dataclass(frozen=True)
class Dues:
    """Everybody on ``day``."""

    shop: Shop
    day: date
    people: list[PersonDue]
    ledger: str = ""
    """The name of the ledger, as its first entry has it."""
    opened: date = date.min
    """The day on which it was opened."""

    def rows(self, state: str) -> list[DueRow]:
        """Return one row for each person whose most pressing state is ``state``, the earliest day first."""
        found = []
        for one in self.people:
            lines = list(one.groups())
            if lines and lines[0].state == state:
                current = [line for line in lines if line.state == CURRENT]
                first = [replace(current[0], reason=_first(current))] if current else []
                found.append(DueRow(one.person, [line for line in lines if line.state != CURRENT] + first))
        return sorted(found, key=lambda row: (row.lines[0].until or date.max, row.person.name))


def dues(shop: Shop, day: date, entries: Sequence[Entry] | None = None) -> Dues:
    """Return where everybody of the shop stands on ``day``; ``entries`` is the ledger, if it has been read already.

    Raises
    ------
    DamagedLedgerError
        If the ledger is not whole.
    """
    read = shop.entries() if entries is None else entries
    counted, zone = in_force(read), zone_named(shop.settings.zone)
    topics = list(shop.topics.values())
    people = []
    for person in shop.people().values():
        past = history(counted, person.id)
        about = [entry.entered.astimezone(zone).date() for entry in read if entry.who == person.id]
        found = standings(past, topics, day, shop.settings.days)
        people.append(PersonDue(person, past, found, len(about), about[-1] if about else None))
    opening = next((entry for entry in read if entry.kind == OPENED), None) or shop.entries()[0]
    return Dues(shop, day, people, str(opening.data["ledger"]), opening.entered.astimezone(zone).date())
