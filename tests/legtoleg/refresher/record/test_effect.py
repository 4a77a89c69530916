"""Effects: an entry that changes nothing says so, and why; one that does says what is so now."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from legtoleg.ledger.entry import Entry
from legtoleg.refresher.record.correction import correct
from legtoleg.refresher.record.effect import effect
from legtoleg.refresher.record.shop import Shop

DAY = date(2027, 1, 4)


def said(shop: Shop, entry: Entry) -> str:
    line = effect(shop, entry, shop.entries(), shop.today())
    assert "\n" not in line
    return line


def call(shop: Shop, on: date, *topics: str) -> Entry:
    data = {"trigger": "near-miss", "title": "A near miss", "topics": list(topics), "note": "", "by": "Ida Demo"}
    return shop.enter(shop.draft("called", "ada-01", on, **data))


def worked(shop: Shop, on: date, *topics: str) -> Entry:
    return shop.enter(shop.draft("worked", "ada-01", on, topics=list(topics), by="Ida Demo"))


def test_a_call_before_the_last_pass_has_no_effect(shop: Shop, outcome: Callable[..., Entry]) -> None:
    outcome(shop, "ada-01", date(2026, 12, 20))
    late = call(shop, date(2026, 12, 19), "isolation", "hand-over")
    assert said(shop, late) == "No effect on isolation, hand-over (passed on 2026-12-20, after that day)."
    counts = call(shop, date(2026, 12, 21), "isolation")
    assert said(shop, counts) == "Effect: isolation: now overdue since 2026-12-21."
    again = call(shop, date(2026, 12, 22), "isolation", "hand-over")
    assert said(shop, again) == (
        "Effect: hand-over: now overdue since 2026-12-22; "
        "no effect on isolation (due already, overdue since 2026-12-21)."
    )


def test_a_call_for_what_was_never_passed_has_no_effect(shop: Shop) -> None:
    assert "No effect on isolation (never passed here" in said(shop, call(shop, DAY, "isolation"))


@pytest.mark.parametrize(
    ("on", "topic", "line"),
    [
        (date(2026, 1, 9), "isolation", "passed on 2026-01-10, after that day"),
        (date(2026, 3, 9), "hand-over", "it has no limit on how long it is not done"),
        (date(2026, 3, 9), "live-reading", "live-reading: now current until 2027-03-09"),
        (date(2026, 3, 9), "isolation", "No effect on isolation (it stays due until 2027-01-10)"),
    ],
)
def test_what_work_that_was_seen_changes(
    shop: Shop, outcome: Callable[..., Entry], on: date, topic: str, line: str
) -> None:
    outcome(shop, "ada-01", date(2026, 1, 10))
    assert line in said(shop, worked(shop, on, topic))


def test_a_talk_and_a_correction(shop: Shop, outcome: Callable[..., Entry]) -> None:
    talk = lambda: shop.enter(shop.draft("talked", "ada-01", DAY, by="Ida Demo", note=""))
    idle = talk()
    assert said(shop, idle) == "No effect: no missed test was waiting for it."
    assert said(shop, correct(shop, idle.number, "not so", "Ida Demo")) == "No effect: nobody's standing changes."
    for _ in range(2):
        outcome(shop, "ada-01", DAY, passed=False)
    assert said(shop, talk()) == "Effect: next test: try 1 instead of the instructor's turn."
    passed = outcome(shop, "ada-01", DAY)
    assert "isolation, dead-test" in said(shop, passed)
    struck = said(shop, correct(shop, passed.number, "the wrong file", "Ida Demo"))
    assert "isolation, dead-test" in struck
    assert "now never passed here" in struck
