"""Dues: everybody's standing on a day, sorted by what has to be done first."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from legtoleg.intake.roster import Person
from legtoleg.refresher.record.history import History, history, in_force
from legtoleg.refresher.record.ledger_entry import Entry
from legtoleg.refresher.record.safety_topics import Topic
from legtoleg.refresher.record.shop import Shop
from legtoleg.refresher.record.standing import CURRENT, DUE, NEVER, OVERDUE, Standing, may_work, standings

_FEW = 3
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
        """Return its topics in words, out of all there are."""
        titles = {one.topic.title for one in self.found}
        critical = [topic.title for topic in everything.values() if topic.critical]
        left = [title for title in critical if title not in titles]
        if len(titles) == len(everything):
            return "all topics"
        if len(left) > len(critical) // 2 or (left and len(self.found) <= _FEW):
            return "; ".join(f"{'⚠ ' if one.topic.critical else ''}{one.topic.title}" for one in self.found)
        others = [one.topic.title for one in self.found if not one.topic.critical]
        return "⚠ all safety-critical topics" + "".join(
            [f" but {'; '.join(left)}" if left else "", f", and {'; '.join(others)}" if others else ""]
        )

    @property
    def critical(self) -> bool:
        """Tell whether a safety-critical topic is among them."""
        return any(one.topic.critical for one in self.found)


def _first(lines: Sequence[DueLine]) -> str:
    count = sum(len(line.found) for line in lines)
    return f"first of {count} current topics to end" if lines[0].until else lines[0].reason


@dataclass(frozen=True)
class Dues:
    """Everybody on ``day``."""

    shop: Shop
    day: date
    people: list[PersonDue]

    def lines(self, state: str) -> list[DueLine]:
        """Return the lines in ``state``, the earliest day first; of what is current, what ends first of each person."""
        found: list[DueLine] = []
        for one in self.people:
            lines = [line for line in one.groups() if line.state == state]
            found += [replace(lines[0], reason=_first(lines))] if lines and state == CURRENT else lines
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
