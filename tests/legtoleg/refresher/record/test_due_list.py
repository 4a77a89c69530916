"""Dues: what stands alike is one line, in words that are no longer than they need be."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from legtoleg.refresher.record.due_list import dues
from legtoleg.refresher.record.shop import Shop
from legtoleg.refresher.record.standing import CURRENT, DUE, NEVER, OVERDUE


def test_lines_in_words(shop: Shop, clock: Any, outcome: Callable[..., Any]) -> None:
    outcome(shop, "ada-01", date(2026, 12, 1))
    outcome(shop, "bo-02", date(2026, 1, 10))
    data = {"trigger": "near-miss", "title": "A near miss", "topics": ["isolation"], "note": "", "by": "Ida Demo"}
    shop.enter(shop.draft("called", "ada-01", date(2027, 1, 2), **data))
    found = dues(shop, shop.today())
    words = lambda state: [(one.person.id, one.when, one.topics(shop.topics), one.reason) for one in found.lines(state)]
    assert words(OVERDUE) == [
        ("ada-01", "since 2027-01-02", "⚠ Make it dead: isolate, lock, tag", "a near miss on 2027-01-02")
    ]
    twelve = "12 months after it was passed; not done for 12 months"
    assert words(DUE) == [("bo-02", "until 2027-01-10", "⚠ all safety-critical topics", twelve)]
    assert words(CURRENT)[0] == (
        "ada-01",
        "until 2027-12-01",
        "⚠ all safety-critical topics but Make it dead: isolate, lock, tag",
        "first of 10 current topics to end",
    )
    assert words(CURRENT)[1][1:3] == ("until 2028-01-10", "What the meter's numbers are worth")
    assert len(words(NEVER)) == 10
    assert words(NEVER)[0][1:3] == ("–", "all topics")
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
