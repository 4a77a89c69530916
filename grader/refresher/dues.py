"""Dues: everybody's standing on a day, sorted by what has to be done first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from grader.refresher.entries import Entry
from grader.refresher.histories import History, history, in_force
from grader.refresher.shops import Shop
from grader.refresher.standings import CURRENT, DUE, NEVER, OVERDUE, Standing, may_work, standings
from grader.rosters import Person

ORDER = (OVERDUE, NEVER, DUE, CURRENT)


@dataclass(frozen=True)
class PersonDue:
    """One person: their history, and where they stand in every topic."""

    person: Person
    past: History
    found: list[Standing]

    @property
    def may_work(self) -> bool:
        """Tell whether every safety-critical topic is good."""
        return may_work(self.found)

    def groups(self) -> Iterator[DueLine]:
        """Yield what stands alike, as one line each, what is most pressing first."""
        alike: dict[tuple[str, date | None, str], list[Standing]] = {}
        for one in self.found:
            alike.setdefault((one.state, one.until, one.reason), []).append(one)
        for state, until, reason in sorted(alike, key=lambda key: (ORDER.index(key[0]), key[1] or date.max, key[2])):
            yield DueLine(self.person, state, until, reason, alike[state, until, reason])


@dataclass(frozen=True)
class DueLine:
    """Topics of one person that stand alike."""

    person: Person
    state: str
    until: date | None
    reason: str
    found: list[Standing]

    @property
    def critical(self) -> bool:
        """Tell whether a safety-critical topic is among them."""
        return any(one.topic.critical for one in self.found)


@dataclass(frozen=True)
class Dues:
    """Everybody on ``day``."""

    shop: Shop
    day: date
    people: list[PersonDue]

    def lines(self, state: str) -> list[DueLine]:
        """Return the lines in ``state``, the earliest day first."""
        found = [line for one in self.people for line in one.groups() if line.state == state]
        return sorted(found, key=lambda line: (line.until or date.max, line.person.name))


def dues(shop: Shop, day: date, entries: Sequence[Entry] | None = None) -> Dues:
    """Return where everybody of the shop stands on ``day``; ``entries`` is the ledger, if it has been read already.

    Raises
    ------
    DamagedLedgerError
        If the ledger is not whole.
    """
    counted = in_force(shop.entries() if entries is None else entries)
    topics = list(shop.topics.values())
    people = []
    for person in shop.people().values():
        past = history(counted, person.id)
        people.append(PersonDue(person, past, standings(past, topics, day, shop.settings.days)))
    return Dues(shop, day, people)
