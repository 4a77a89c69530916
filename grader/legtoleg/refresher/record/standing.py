"""Standings: where a person stands in a topic on a day, and from when on it is due."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from dateutil.relativedelta import relativedelta

from legtoleg.ledger.entry import Entry
from legtoleg.refresher.record.history import History, topics_of
from legtoleg.refresher.record.ledger_entry import CALLED, RECORDED, WORKED
from legtoleg.refresher.record.safety_topics import Topic

CURRENT, DUE, OVERDUE, NEVER = "current", "due", "overdue", "never"
STATES = (CURRENT, DUE, OVERDUE, NEVER)


@dataclass(frozen=True)
class Standing:
    """One person in one topic. ``until`` is the last good day (none: no period), ``reason`` is why, in words.

    With ``called`` it is due at once since the day ``until``, whatever the calendar says: the earliest cause counts,
    so what had ended before it was called for stands under its last good day.
    """

    who: str
    topic: Topic
    state: str
    passed: date | None
    until: date | None
    reason: str
    called: bool = False

    @property
    def good(self) -> bool:
        """Tell whether the person counts as current on that day."""
        return self.state in (CURRENT, DUE)


def months_after(day: date, months: int) -> date:
    """Return the same day so many months later; where that month is shorter, its last day."""
    moved: date = day + relativedelta(months=months)
    return moved


def _last(entries: Sequence[Entry]) -> Entry | None:
    return max(entries, key=lambda entry: (entry.on, entry.number), default=None)


def _until(topic: Topic, passed: date, worked: date | None) -> tuple[date | None, str]:
    """Return the last good day by the calendar, and why it ends then."""
    ends: list[tuple[date, str]] = []
    if topic.months is not None:
        ends.append((months_after(passed, topic.months), f"{topic.months} months after it was passed"))
    if topic.idle_months is not None:
        done = max(passed, worked) if worked else passed
        ends.append((months_after(done, topic.idle_months), f"not done for {topic.idle_months} months"))
    return min(ends) if ends else (None, "no period; due when it is called for")


Known = list[tuple[Entry, frozenset[str]]]
"""What was entered up to a day, and the topics that each entry is about."""


def _standing(who: str, topic: Topic, known: Known, day: date, soon: int) -> Standing:
    about = [entry for entry, topics in known if topic.topic in topics]
    passed = _last([entry for entry in about if entry.kind == RECORDED and entry.data["passed"]])
    if passed is None:
        return Standing(who, topic, NEVER, None, None, "never passed here")
    worked = _last([entry for entry in about if entry.kind == WORKED])
    until, reason = _until(topic, passed.on, worked.on if worked else None)
    calls = [
        entry
        for entry in about
        if (entry.kind == CALLED or (entry.kind == RECORDED and not entry.data["passed"]))
        and (entry.on, entry.number) > (passed.on, passed.number)
    ]
    if calls:
        first = min(calls, key=lambda entry: (entry.on, entry.number))
        said = "missed in a test" if first.kind == RECORDED else str(first.data["title"]).lower()
        said = f"{said} on {first.on}"
        if until is None or until >= first.on:
            return Standing(who, topic, OVERDUE, passed.on, first.on, said, called=True)
        return Standing(who, topic, OVERDUE, passed.on, until, f"{reason}; {said}")
    if until is None:
        return Standing(who, topic, CURRENT, passed.on, None, reason)
    state = OVERDUE if day > until else DUE if (until - day).days <= soon else CURRENT
    return Standing(who, topic, state, passed.on, until, reason)


def standings(past: History, topics: Iterable[Topic], day: date, soon: int) -> list[Standing]:
    """Return where a person stands in each topic on ``day``; ``soon`` days before its end it counts as due."""
    known = [(entry, frozenset(topics_of(entry))) for entry in past.entries if entry.on <= day]
    return [_standing(past.who, topic, known, day, soon) for topic in topics]


def may_work(found: Iterable[Standing]) -> bool:
    """Tell whether every safety-critical topic is good."""
    return all(one.good for one in found if one.topic.critical)
