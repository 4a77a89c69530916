"""Statements held to the structure of IEEE 9274.1.1 (xAPI): a JSON Schema of our own, from memory of the standard."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from tests.published.changes import put, without

from legtoleg.ledger.entry import START, Draft, Entry, chained
from legtoleg.ledger.hash_chain import followed, row_of
from legtoleg.refresher.proof.xapi import statements
from legtoleg.refresher.record.ledger_entry import FORM

SCHEMA = json.loads(Path(__file__).with_name("xapi_statement.schema.json").read_text(encoding="utf-8"))
VALIDATOR = Draft202012Validator(SCHEMA)
WHEN = datetime(2027, 1, 4, 18, 0, 0, 123456, tzinfo=UTC)


def ledger() -> list[Entry]:
    outcome = {"issue": "ada-01.r1", "passed": True, "points": 35.5, "of": 38.0, "topics": ["isolation"], "held": []}
    failed = {**outcome, "issue": "bo-02.r2", "passed": False, "points": 0.0}
    drafts = [
        ("opened", "", {"shop": "Demo shop", "ledger": "0123456789abcdef"}),
        ("recorded", "ada-01", outcome),
        ("recorded", "bo-02", failed),
        ("worked", "bo-02", {"topics": ["isolation"]}),
        ("corrected", "bo-02", {"entry": 3, "reason": "x", "by": "y"}),
        ("corrected", "bo-02", {"entry": 4, "reason": "x", "by": "y"}),
        ("corrected", "bo-02", {"entry": 5, "reason": "x", "by": "y"}),
    ]
    entries: list[Entry] = []
    before = START
    for number, (kind, who, data) in enumerate(drafts, 1):
        draft = Draft(kind, who, date(2027, 1, 4), WHEN, data)
        before_this, before = before, chained(FORM, number, before, draft.body())
        entries.append(Entry(kind, who, draft.on, WHEN, data, number, before_this, before))
    assert followed(FORM, [row_of(FORM, one) for one in entries])
    return entries


def test_the_schema_is_one() -> None:
    Draft202012Validator.check_schema(SCHEMA)


def test_every_statement_is_of_the_published_structure() -> None:
    made = statements(ledger())
    assert [one["verb"]["display"]["en"] for one in made] == ["passed", "failed", "voided", "failed"]
    for one in made:
        VALIDATOR.validate(json.loads(json.dumps(one)))
    assert made[2]["object"]["id"] == made[1]["id"]
    assert made[3]["result"] == made[1]["result"], "it counts again, and is stated anew"
    assert len({one["id"] for one in made}) == 4
    assert made[0]["result"] == {
        "score": {"scaled": 0.9342, "raw": 35.5, "min": 0, "max": 38.0},
        "success": True,
        "completion": True,
    }
    assert made[0]["timestamp"] == "2027-01-04T18:00:00.123Z"
    assert made == statements(ledger()), "an export made again says the same, id for id"


@pytest.mark.parametrize(
    "change",
    [
        without("actor"),
        without("verb"),
        without("object"),
        without("verb", "id"),
        without("actor", "account"),
        without("actor", "account", "homePage"),
        put("mailto:a@b.example", "actor", "mbox"),
        put("passed", "verb", "id"),
        put(1.01, "result", "score", "scaled"),
        put("yes", "result", "success"),
        put("4 January 2027", "timestamp"),
        put("not-an-id", "id"),
        put(1, "context", "extensions", "no iri"),
        put(1, "extra"),
        put("http://adlnet.gov/expapi/verbs/voided", "verb", "id"),
        put({"objectType": "StatementRef", "id": "6690e6c9-3ef0-4ed3-8b37-7f3964730bee"}, "object"),
    ],
)
def test_the_schema_refuses_what_the_standard_does(change: Callable[[Any], None]) -> None:
    one = copy.deepcopy(statements(ledger())[0])
    assert VALIDATOR.is_valid(one)
    change(one)
    assert not VALIDATOR.is_valid(one)
