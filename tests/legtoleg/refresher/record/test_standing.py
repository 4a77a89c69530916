"""Standings, day by day: the last good day, what is soon, what is called for, and who may work."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from itertools import count
from typing import Any

import pytest

from legtoleg.ledger.entry import Entry
from legtoleg.refresher.record.history import History
from legtoleg.refresher.record.safety_topics import Topic
from legtoleg.refresher.record.standing import (
    CURRENT,
    DUE,
    NEVER,
    OVERDUE,
    Standing,
    may_work,
    months_after,
    standings,
)

WHEN = datetime(2027, 1, 4, tzinfo=UTC)
PASSED = date(2026, 1, 31)
SOON = 30


def topic(name: str = "isolation", months: int | None = 12, idle: int | None = None, *, critical: bool = True) -> Topic:
    return Topic(name, name.title(), "", critical, "", "", months, idle, "", "")


def entered(*what: tuple[Any, ...]) -> History:
    """Return the history of (kind, day) or (kind, day, topics); a test that was missed is ``missed``."""
    number = count(1)
    made = []
    for kind, day, *rest in what:
        topics = rest[0] if rest else ["isolation"]
        tested = kind in ("passed", "missed")
        outcome: dict[str, Any] = {"passed": kind == "passed", "held": topics} if tested else {"title": "A Near Miss"}
        data = {"topics": topics, **outcome}
        made.append(Entry("recorded" if tested else kind, "ada-01", day, WHEN, data, next(number)))
    return History("ada-01", tuple(made))


def standing(past: History, day: date, what: Topic | None = None) -> Standing:
    (found,) = standings(past, [what or topic()], day, SOON)
    return found


def test_months_end_on_the_last_day_of_a_shorter_month() -> None:
    assert months_after(date(2027, 1, 31), 1) == date(2027, 2, 28)
    assert months_after(date(2028, 1, 31), 1) == date(2028, 2, 29)
    assert months_after(date(2026, 1, 31), 12) == date(2027, 1, 31)


@pytest.mark.parametrize(
    ("day", "state"),
    [
        (date(2026, 1, 30), NEVER),
        (date(2026, 1, 31), CURRENT),
        (date(2026, 12, 31), CURRENT),
        (date(2027, 1, 1), DUE),
        (date(2027, 1, 31), DUE),
        (date(2027, 2, 1), OVERDUE),
    ],
)
def test_a_period_of_twelve_months_day_by_day(day: date, state: str) -> None:
    found = standing(entered(("passed", PASSED)), day)
    assert (found.state, found.called) == (state, False)
    assert found.good is (state in (CURRENT, DUE))
    if state == NEVER:
        assert (found.passed, found.until, found.reason) == (None, None, "never passed here")
    else:
        assert (found.passed, found.until) == (PASSED, date(2027, 1, 31))
        assert found.reason == "12 months after it was passed"
    assert (found.who, found.topic.topic) == ("ada-01", "isolation")


def test_without_a_period_it_stays_current_until_it_is_called_for() -> None:
    found = standing(entered(("passed", PASSED)), date(2040, 1, 1), topic(months=None))
    assert (found.state, found.until, found.passed) == (CURRENT, None, PASSED)
    assert found.reason == "no period; due when it is called for"


@pytest.mark.parametrize(
    ("worked", "until", "reason"),
    [
        (None, date(2026, 7, 31), "not done for 6 months"),
        (date(2026, 5, 10), date(2026, 11, 10), "not done for 6 months"),
        (date(2025, 12, 1), date(2026, 7, 31), "not done for 6 months"),
        (date(2026, 12, 1), date(2027, 1, 31), "12 months after it was passed"),
    ],
)
def test_what_is_not_done_ends_sooner_and_work_that_was_seen_moves_it(
    worked: date | None, until: date, reason: str
) -> None:
    what = [("passed", PASSED), *([("worked", worked)] if worked else [])]
    found = standing(entered(*what), date(2026, 12, 5), topic(months=12, idle=6))
    assert (found.until, found.reason) == (until, reason)


def test_the_last_pass_counts_whatever_the_order_of_entry() -> None:
    found = standing(entered(("passed", date(2026, 6, 1)), ("passed", PASSED)), date(2026, 6, 2))
    assert (found.passed, found.until) == (date(2026, 6, 1), date(2027, 6, 1))


def test_a_call_makes_it_due_at_once_since_the_first_day_until_it_is_passed() -> None:
    called = [("passed", PASSED), ("called", date(2026, 3, 2)), ("called", date(2026, 3, 9))]
    found = standing(entered(*called), date(2026, 3, 10))
    assert (found.state, found.until, found.called) == (OVERDUE, date(2026, 3, 2), True)
    assert (found.passed, found.reason) == (PASSED, "a near miss on 2026-03-02")
    assert standing(entered(*called), date(2026, 3, 1)).state == CURRENT
    passed = standing(entered(*called, ("passed", date(2026, 3, 10))), date(2026, 3, 10))
    assert (passed.state, passed.called) == (CURRENT, False)


def test_overdue_since_is_the_earlier_of_lapse_and_call() -> None:
    lapsed = standing(entered(("passed", PASSED), ("called", date(2027, 3, 2))), date(2027, 3, 10))
    assert (lapsed.state, lapsed.until, lapsed.called) == (OVERDUE, date(2027, 1, 31), False)
    assert lapsed.reason == "12 months after it was passed; a near miss on 2027-03-02"
    called = standing(entered(("passed", PASSED), ("called", date(2027, 1, 31))), date(2027, 3, 10))
    assert (called.until, called.called) == (date(2027, 1, 31), True), "on its last good day the call comes first"


def test_on_one_day_the_order_of_entry_decides() -> None:
    assert standing(entered(("called", PASSED), ("passed", PASSED)), PASSED).state == CURRENT
    assert standing(entered(("passed", PASSED), ("called", PASSED)), PASSED).state == OVERDUE


def test_a_safety_question_missed_in_a_test_is_a_call() -> None:
    found = standing(entered(("passed", PASSED), ("missed", date(2026, 4, 1))), date(2026, 4, 2))
    assert (found.state, found.called, found.reason) == (OVERDUE, True, "missed in a test on 2026-04-01")
    assert standing(entered(("missed", PASSED)), PASSED).state == NEVER
    others = entered(("passed", PASSED), ("missed", date(2026, 4, 1), ["other"]))
    assert standing(others, date(2026, 4, 2)).state == CURRENT


def test_every_topic_is_judged_by_its_own_entries() -> None:
    past = entered(("passed", PASSED, ["isolation"]))
    found = standings(past, [topic("other"), topic()], PASSED + timedelta(days=1), SOON)
    assert [(one.topic.topic, one.state) for one in found] == [("other", NEVER), ("isolation", CURRENT)]


def test_who_may_work_is_good_in_every_critical_topic() -> None:
    past = entered(("passed", PASSED, ["isolation"]))
    good = standing(past, PASSED)
    never = standing(past, PASSED, topic("other"))
    minor = standing(past, PASSED, topic("minor", critical=False))
    assert may_work([good, minor])
    assert not may_work([good, never])
    assert may_work([])
