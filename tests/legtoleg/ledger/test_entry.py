"""Entries: one text for one content, and what is no entry is refused."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from legtoleg.ledger.entry import START, Draft, EntryError, chained, read_entry
from legtoleg.refresher.record.ledger_entry import FORM, once_of

WHEN = datetime(2027, 1, 4, 18, 0, tzinfo=UTC)
TEXT = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)
DATA = st.dictionaries(
    TEXT,
    st.one_of(TEXT, st.booleans(), st.integers(-(2**53) + 1, 2**53 - 1), st.floats(-1e9, 1e9), st.lists(TEXT)),
    max_size=5,
)


@given(DATA)
def test_what_is_written_is_read(data: dict[str, object]) -> None:
    body = Draft("worked", "ada-01", date(2027, 1, 4), WHEN, data).body()
    read = read_entry(FORM, 2, START, body, chained(FORM, 2, START, body))
    assert read.data == json.loads(json.dumps(data))
    assert read.body() == body, "read and written again it is the same text, so the same hash"


def test_order_and_zone_make_no_other_text() -> None:
    one = Draft("worked", "ada-01", date(2027, 1, 4), WHEN, {"b": 1, "a": (2, 3)})
    other = Draft("worked", "ada-01", one.on, WHEN.astimezone(timezone(timedelta(hours=-7))), {"a": [2, 3], "b": 1.0})
    assert one.body() == other.body()
    assert '"entered":"2027-01-04T18:00:00.000000+00:00"' in one.body()
    assert chained(FORM, 2, START, one.body()) != chained(FORM, 3, START, one.body())


@pytest.mark.parametrize(
    "change",
    [{"kind": "gift"}, {"who": 3}, {"data": []}, {"on": "soon"}, {"entered": "soon"}, {"more": 1}, {"kind": "issued"}],
)
def test_what_is_no_entry_is_refused(change: dict[str, object]) -> None:
    body = json.loads(Draft("worked", "ada-01", date(2027, 1, 4), WHEN, {}).body())
    with pytest.raises(EntryError):
        read_entry(FORM, 2, START, json.dumps({**body, **change}), START)
    with pytest.raises(EntryError):
        read_entry(FORM, 2, START, "[" * 100_000, START)


def test_once() -> None:
    assert once_of("opened", {}) == "opened"
    assert once_of("recorded", {"issue": "x"}) == "recorded x 0"
    assert once_of("recorded", {"issue": "x", "again": 1}) == "recorded x 1"
    assert once_of("worked", {}) is None
