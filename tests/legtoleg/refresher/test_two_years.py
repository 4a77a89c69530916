"""Two simulated years of a shop of twelve: the due list of every day against a computation of its own."""

from __future__ import annotations

import calendar
import random
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from legtoleg.ledger.entry import Entry
from legtoleg.refresher.record.due_list import dues
from legtoleg.refresher.record.shop import Shop
from legtoleg.refresher.record.standing import CURRENT, DUE, NEVER, OVERDUE

FIRST_DAY, LAST_DAY = date(2027, 2, 15), date(2029, 3, 3)


def later(day: date, months: int) -> date:
    """The same day so many months later, with the calendar of the standard library alone."""
    month = day.month - 1 + months
    year, month = day.year + month // 12, month % 12 + 1
    return date(year, month, min(day.day, calendar.monthrange(year, month)[1]))


def sunday(year: int, month: int, which: int) -> date:
    first = date(year, month, 1)
    return first + timedelta(days=(6 - first.weekday()) % 7 + 7 * (which - 1))


def denver_day(now: datetime) -> date:
    """The day in Denver by the rule of the clocks (second Sunday of March, first of November, 2 a.m.), no library."""
    standard = now - timedelta(hours=7)
    starts = datetime.combine(sunday(standard.year, 3, 2), datetime.min.time(), UTC) + timedelta(hours=2)
    ends = datetime.combine(sunday(standard.year, 11, 1), datetime.min.time(), UTC) + timedelta(hours=1)
    return (standard + timedelta(hours=1) if starts <= standard < ends else standard).date()


@pytest.mark.parametrize(
    ("zone", "day_of"),
    [
        ("America/Denver", denver_day),
        ("Pacific/Kiritimati", lambda now: (now + timedelta(hours=14)).date()),
        ("Asia/Kathmandu", lambda now: (now + timedelta(hours=5, minutes=45)).date()),
        ("Pacific/Pago_Pago", lambda now: (now - timedelta(hours=11)).date()),
    ],
)
def test_the_day_is_the_shops(shop: Shop, clock: Any, zone: str, day_of: Callable[[datetime], date]) -> None:
    from dataclasses import replace

    there = Shop(shop.folder, replace(shop.settings, zone=zone), clock)
    clock.now = datetime(2027, 1, 1, 0, 1, tzinfo=UTC)
    while clock.now.year < 2029:
        assert there.today() == day_of(clock.now), clock.now
        clock.now += timedelta(minutes=437)


@dataclass
class Happened:
    on: date
    number: int
    kind: str
    topics: list[str]
    counts: bool = True


@dataclass
class Expected:
    """What the test itself knows of each person."""

    log: dict[str, list[Happened]] = field(default_factory=dict)

    def state(self, who: str, topic: Any, day: date, soon: int = 30) -> tuple[str, date | None]:
        passed = worked = called = None
        for one in sorted(self.log.get(who, []), key=lambda one: (one.on, one.number)):
            if not one.counts or one.on > day or topic.topic not in one.topics:
                continue
            if one.kind == "passed":
                passed, called = one.on, None
            elif one.kind == "worked":
                worked = one.on
            elif called is None:
                called = one.on
        if passed is None:
            return NEVER, None
        if called is not None:
            return OVERDUE, called
        ends = [later(passed, topic.months)] if topic.months else []
        ends += [later(max(passed, worked or passed), topic.idle_months)] if topic.idle_months else []
        if not ends:
            return CURRENT, None
        until = min(ends)
        return (OVERDUE if day > until else DUE if until <= day + timedelta(days=soon) else CURRENT), until


class Life:
    """What happens in the shop, by chance, with the days that calendars stumble over made likely."""

    def __init__(self, shop: Shop, outcome: Callable[..., Entry]) -> None:
        self.shop, self.outcome = shop, outcome
        self.known = Expected()
        self.dice = random.Random(20270215)
        self.who = list(shop.people())
        self.topics = list(shop.topics)
        self.entered: list[Entry] = []

    def note(self, who: str, entry: Entry, kind: str, topics: list[str]) -> None:
        self.entered.append(entry)
        self.known.log.setdefault(who, []).append(Happened(entry.on, entry.number, kind, topics))

    def test(self, who: str, on: date) -> None:
        passed = self.dice.random() < 0.8
        held = () if passed else tuple(self.dice.sample(self.topics[:9], 2))
        entry = self.outcome(self.shop, who, on, passed=passed, held=held)
        self.note(who, entry, "passed" if passed else "called", self.topics if passed else list(held))

    def call(self, who: str, on: date) -> None:
        topics = self.dice.sample(self.topics, self.dice.randint(1, 3))
        data = {"trigger": "near-miss", "title": "A near miss", "topics": topics, "note": "", "by": "Ida Demo"}
        entry = self.shop.enter(self.shop.draft("called", who, on, **data))
        self.note(who, entry, "called", topics)

    def work(self, who: str, on: date) -> None:
        topics = self.dice.sample(self.topics, 3)
        self.note(
            who, self.shop.enter(self.shop.draft("worked", who, on, topics=topics, by="Ida Demo")), "worked", topics
        )

    def correct(self, who: str, on: date) -> None:
        counting = [one for one in self.known.log.get(who, []) if one.counts]
        if counting:
            wrong = self.dice.choice(counting)
            wrong.counts = False
            data = {"entry": wrong.number, "reason": "entered for the wrong person", "by": "Ida Demo"}
            self.entered.append(self.shop.enter(self.shop.draft("corrected", who, on, **data)))

    def day(self, today: date) -> None:
        """Live one day."""
        odd = today.day >= 28 or today == date(2028, 2, 29)
        if self.dice.random() > (0.45 if odd else 0.12):
            return
        who = self.dice.choice(self.who)
        on = today - timedelta(days=self.dice.choice((0, 0, 0, 1, 3)))
        what = self.dice.choices((self.test, self.call, self.work, self.correct), (6, 2, 4, 1))[0]
        what(who, on)


def test_two_years(shop: Shop, clock: Any, outcome: Callable[..., Entry]) -> None:
    life = Life(shop, outcome)
    seen: set[str] = set()
    start = datetime(2027, 2, 15, 0, 0, tzinfo=UTC)
    steps = (LAST_DAY - FIRST_DAY).days
    for step in range(steps):
        clock.now = start + timedelta(days=step, minutes=life.dice.randrange(24 * 60))
        today = denver_day(clock.now)
        assert shop.today() == today
        if today in (date(2028, 1, 31), date(2028, 2, 29)):
            life.test("ada-01", today)
        life.day(today)
        for one in dues(shop, today, life.entered).people:
            for found in one.found:
                wanted = life.known.state(one.person.id, found.topic, today)
                assert (found.state, found.until) == wanted, (today, one.person.id, found)
                seen.add(found.state)
    assert seen == {CURRENT, DUE, OVERDUE, NEVER}
    whole = shop.entries()
    assert [entry for entry in whole if entry.kind not in ("opened", "issued")] == life.entered
    assert len(whole) > 150
    assert {(2, 29), (1, 31)} <= {(e.on.month, e.on.day) for e in whole}


def test_a_day_in_the_past_is_as_it_was(shop: Shop, clock: Any, outcome: Callable[..., Entry], tmp_path: Path) -> None:
    outcome(shop, "ada-01", date(2027, 1, 4))
    clock.now += timedelta(days=40)
    outcome(shop, "ada-01", date(2027, 2, 13), passed=False, held=("isolation",))
    before = dues(shop, date(2027, 2, 12)).people[0]
    assert before.may_work
    assert not dues(shop, date(2027, 2, 13)).people[0].may_work


@pytest.mark.parametrize(
    ("passed", "until"),
    [
        (date(2027, 1, 31), date(2028, 1, 31)),
        (date(2028, 2, 29), date(2029, 2, 28)),
        (date(2027, 2, 28), date(2028, 2, 28)),
    ],
)
def test_the_last_good_day(shop: Shop, clock: Any, outcome: Callable[..., Entry], passed: date, until: date) -> None:
    clock.now = datetime(2029, 6, 1, tzinfo=UTC)
    outcome(shop, "ada-01", passed)
    state = lambda day: {found.topic.topic: found for found in dues(shop, day).people[0].found}["isolation"]
    assert state(passed).state == CURRENT
    assert state(until - timedelta(days=31)).state == CURRENT
    assert state(until - timedelta(days=30)).state == DUE
    assert (state(until).state, state(until).until) == (DUE, until)
    assert state(until + timedelta(days=1)).state == OVERDUE
    assert state(passed - timedelta(days=1)).state == NEVER
