"""Histories: a test, one retry, then the instructor; a pass or a talk opens a new round."""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Any

import pytest

from legtoleg.ledger.corrections import in_force
from legtoleg.ledger.entry import Entry
from legtoleg.refresher.record.history import history

DAY, WHEN = date(2027, 1, 4), datetime(2027, 1, 4, tzinfo=UTC)


def chain(*kinds: str) -> list[Entry]:
    made = []
    for number, word in enumerate(kinds, 1):
        kind = "recorded" if word in ("passed", "failed") else word
        issue = f"x{number - (kind == 'recorded')}"
        data: dict[str, Any] = {"issue": issue, "attempt": 1, "items": [], "questions": [], "passed": word == "passed"}
        made.append(Entry(kind, "ada-01", DAY, WHEN, data, number))
    return made


@pytest.mark.parametrize(
    ("kinds", "attempt", "is_open"),
    [
        ((), 1, False),
        (("issued",), 1, True),
        (("issued", "failed"), 2, False),
        (("issued", "failed", "issued"), 2, True),
        (("issued", "failed", "issued", "failed"), 3, False),
        (("issued", "failed", "issued", "failed", "talked"), 1, False),
        (("issued", "failed", "issued", "passed"), 1, False),
        (("issued", "passed", "called", "issued", "failed"), 2, False),
    ],
)
def test_which_try_comes_next(kinds: tuple[str, ...], attempt: int, is_open: bool) -> None:
    past = history(in_force(chain(*kinds)), "ada-01")
    assert past.next_attempt == attempt
    assert (past.open_issue is not None) == is_open
    assert history(chain(*kinds), "bo-02").entries == ()
