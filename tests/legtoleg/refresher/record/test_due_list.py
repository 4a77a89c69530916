"""Dues: what stands alike is one line, in words that are no longer than they need be."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date, timedelta
from typing import Any

import pytest

from legtoleg.intake.roster import Person
from legtoleg.refresher.record.due_list import DueLine, Dues, PersonDue, dues
from legtoleg.refresher.record.history import History
from legtoleg.refresher.record.safety_topics import Topic
from legtoleg.refresher.record.shop import Shop
from legtoleg.refresher.record.standing import CURRENT, DUE, NEVER, OVERDUE, Standing


def test_lines_in_words(shop: Shop, clock: Any, outcome: Callable[..., Any]) -> None:
    outcome(shop, "ada-01", date(2026, 12, 1))
    outcome(shop, "bo-02", date(2026, 1, 10))
    data = {"trigger": "near-miss", "title": "A near miss", "topics": ["isolation"], "note": "", "by": "Ida Demo"}
    shop.enter(shop.draft("called", "ada-01", date(2027, 1, 2), **data))
    found = dues(shop, shop.today())
    words = lambda state: [
        (row.person.id, [(line.when, line.topics(shop.topics), line.reason) for line in row.lines])
        for row in found.rows(state)
    ]
    assert words(OVERDUE) == [
        (
            "ada-01",
            [
                ("since 2027-01-02", "⚠ Make it dead: isolate, lock, tag", "a near miss on 2027-01-02"),
                (
                    "until 2027-12-01",
                    "⚠ all safety-critical topics (not Make it dead: isolate, lock, tag)",
                    "first of 11 current topics to end",
                ),
            ],
        )
    ]
    twelve = "12 months after it was passed; not done for 12 months"
    ((who, lines),) = words(DUE)
    assert who == "bo-02"
    assert lines[0] == ("until 2027-01-10", "⚠ all safety-critical topics", twelve)
    assert lines[1][:2] == ("until 2028-01-10", "What the meter's numbers are worth")
    assert words(CURRENT) == []
    assert len(words(NEVER)) == 10
    assert words(NEVER)[0][1][0][:2] == ("–", "all topics")
    rows = [who for state in (OVERDUE, NEVER, DUE, CURRENT) for who, _ in words(state)]
    assert sorted(rows) == sorted(shop.people()), "one row a person"
    assert [one.may_work for one in found.people[:3]] == [False, True, False]


def test_the_shops_own_interval_counts(shop: Shop, outcome: Callable[..., Any]) -> None:
    (shop.folder / "topics.csv").write_text("topic,months,idle_months\nisolation,1,none\n", encoding="utf-8")
    outcome(shop, "ada-01", date(2026, 11, 30))
    own = Shop.at(shop.folder, shop.clock)
    isolation = dues(own, own.today()).people[0].found[0]
    assert (isolation.topic.topic, isolation.state, isolation.until) == ("isolation", OVERDUE, date(2026, 12, 30))


def test_work_that_was_seen_moves_only_what_waits_for_it(shop: Shop, clock: Any, outcome: Callable[..., Any]) -> None:
    outcome(shop, "ada-01", date(2025, 6, 1))
    live = lambda: dues(shop, shop.today()).people[0].found[2]
    assert (live().topic.topic, live().until, live().state) == ("live-reading", date(2026, 6, 1), OVERDUE)
    shop.enter(shop.draft("worked", "ada-01", date(2026, 5, 30), topics=["live-reading", "isolation"], by="Ida Demo"))
    assert (live().until, live().state) == (date(2027, 5, 30), CURRENT)
    isolation = dues(shop, shop.today()).people[0].found[0]
    assert (isolation.until, isolation.state) == (date(2026, 6, 1), OVERDUE)


def topic(name: str, *, critical: bool) -> Topic:
    return Topic(name, name.title(), "", critical, "", "", 12, None, "", "")


TOPICS = {name: topic(name, critical=name.startswith("c")) for name in ("c1", "c2", "c3", "c4", "c5", "c6", "m1", "m2")}
ADA, BO = Person("ada-01", "Ada Demo"), Person("bo-02", "Bo Demo")
DAY = date(2027, 1, 4)


def stands(name: str, state: str, until: date | None = None, reason: str = "", *, called: bool = False) -> Standing:
    return Standing("ada-01", TOPICS[name], state, None, until, reason, called)


@pytest.mark.parametrize(
    ("names", "says"),
    [
        (TOPICS, "all topics"),
        (("c1", "c2", "c3", "c4", "c5", "c6"), "⚠ all safety-critical topics"),
        (("c1", "c2", "c3", "c4", "c5", "c6", "m1"), "⚠ all safety-critical topics · M1"),
        (("c1", "c2", "c3", "c4", "c5"), "⚠ all safety-critical topics (not C6)"),
        (("c1", "c2", "c3", "m2", "m1"), "⚠ all safety-critical topics (not C4 · C5 · C6) · M2 · M1"),
        (("c1", "c2", "m1"), "⚠ C1 · ⚠ C2 · M1"),
        (("c1", "c2", "m1", "m2"), "⚠ C1 · ⚠ C2 · M1 · M2"),
        (("c1", "c2", "c3"), "⚠ C1 · ⚠ C2 · ⚠ C3"),
        (("c1", "c2", "c3", "m1"), "⚠ all safety-critical topics (not C4 · C5 · C6) · M1"),
        (("m2",), "M2"),
    ],
)
def test_topics_in_the_fewest_words(names: Iterable[str], says: str) -> None:
    line = DueLine(ADA, DUE, DAY, "", [stands(name, DUE, DAY) for name in names])
    assert line.topics(TOPICS) == says
    assert line.critical is ("⚠" in says or says == "all topics")


def test_when_in_words() -> None:
    assert DueLine(ADA, NEVER, None, "", [stands("c1", NEVER)]).when == "–"
    assert DueLine(ADA, DUE, DAY, "", [stands("c1", DUE, DAY)]).when == "until 2027-01-04"
    assert DueLine(ADA, OVERDUE, DAY, "", [stands("c1", OVERDUE, DAY, called=True)]).when == "since 2027-01-04"


def test_what_stands_alike_is_one_line_the_most_pressing_first() -> None:
    later = DAY + timedelta(days=1)
    found = [
        stands("m1", CURRENT),
        stands("c1", CURRENT, later, "x"),
        stands("c2", CURRENT, DAY, "y"),
        stands("c3", DUE, later),
        stands("c4", NEVER),
        stands("c5", OVERDUE, later, "a"),
        stands("c6", OVERDUE, later, "b"),
        stands("m2", OVERDUE, later, "a", called=True),
        stands("c1", OVERDUE, later, "a"),
    ]
    lines = list(PersonDue(ADA, History("ada-01", ()), found).groups())
    assert [(line.state, line.until, [one.topic.topic for one in line.found]) for line in lines] == [
        (OVERDUE, later, ["c5", "c6", "c1"]),
        (OVERDUE, later, ["m2"]),
        (NEVER, None, ["c4"]),
        (DUE, later, ["c3"]),
        (CURRENT, DAY, ["c2"]),
        (CURRENT, later, ["c1"]),
        (CURRENT, None, ["m1"]),
    ]
    assert lines[0].reason == "a; b"
    assert not PersonDue(ADA, History("ada-01", ()), found).may_work
    assert PersonDue(ADA, History("ada-01", ()), found[:4]).may_work


def test_rows_of_everybody_the_earliest_day_first_then_by_name(shop: Shop) -> None:
    later = DAY + timedelta(days=1)
    everybody = [
        PersonDue(BO, History("bo-02", ()), [stands("c1", DUE, DAY), stands("c2", CURRENT, later, "end")]),
        PersonDue(
            ADA,
            History("ada-01", ()),
            [stands("c1", DUE, DAY), stands("c2", DUE), stands("c3", CURRENT, later), stands("m1", CURRENT, DAY)],
        ),
        PersonDue(Person("cy-03", "Cy Demo"), History("cy-03", ()), [stands("m2", CURRENT, None, "no period")]),
    ]
    found = Dues(shop, DAY, everybody)
    rows = lambda state: [
        (row.person.id, [(line.state, line.until, line.reason) for line in row.lines]) for row in found.rows(state)
    ]
    assert rows(DUE) == [
        ("ada-01", [(DUE, DAY, ""), (DUE, None, ""), (CURRENT, DAY, "first of 2 current topics to end")]),
        ("bo-02", [(DUE, DAY, ""), (CURRENT, later, "first of 1 current topics to end")]),
    ]
    assert rows(CURRENT) == [("cy-03", [(CURRENT, None, "no period")])]
    assert rows(OVERDUE) == []
