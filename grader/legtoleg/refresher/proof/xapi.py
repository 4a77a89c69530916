"""Statements: outcomes as xAPI (IEEE 9274.1.1) has them, for a store of learning records; nothing is sent anywhere."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC
from uuid import NAMESPACE_OID, uuid5

from legtoleg.ledger.corrections import in_force
from legtoleg.ledger.entry import CORRECTED, Entry
from legtoleg.refresher.record.ledger_entry import RECORDED

VERSION = "2.0.0"
_VERBS = "http://adlnet.gov/expapi/verbs/"
_OURS = "urn:leg-to-leg:"


def statement_id(entry: Entry) -> str:
    """Return the id of the statement about ``entry``: the same in every export, since it comes from the hash."""
    return str(uuid5(NAMESPACE_OID, f"{_OURS}{entry.hash}"))


def _agent(ledger: str, who: str) -> dict[str, object]:
    """Return a person as an account of the shop; the home page is no real place, since no service is behind it."""
    return {"objectType": "Agent", "account": {"homePage": f"https://shop-{ledger}.invalid/", "name": who}}


def _verb(word: str) -> dict[str, object]:
    return {"id": f"{_VERBS}{word}", "display": {"en": word}}


def _activity() -> dict[str, object]:
    about = {
        "en": "A test of 12 to 15 questions, one of them work on a simulated bench. A training record, not a license."
    }
    definition = {
        "name": {"en": "Refresher: testing a 240 V dryer's heater"},
        "description": about,
        "type": "http://adlnet.gov/expapi/activities/assessment",
    }
    return {"objectType": "Activity", "id": f"{_OURS}refresher", "definition": definition}


def _base(entry: Entry) -> dict[str, object]:
    when = entry.entered.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")
    return {"id": statement_id(entry), "timestamp": when, "version": VERSION}


def _proof(entry: Entry) -> dict[str, object]:
    return {f"{_OURS}ledger-entry": entry.number, f"{_OURS}ledger-hash": entry.hash}


def _outcome(entry: Entry, ledger: str) -> dict[str, object]:
    data = entry.data
    scaled = round(data["points"] / data["of"], 4) if data["of"] else 0.0
    score = {"scaled": scaled, "raw": data["points"], "min": 0, "max": data["of"]}
    extensions = {**_proof(entry), f"{_OURS}topics": data["topics"], f"{_OURS}day-at-the-shop": entry.on.isoformat()}
    return {
        **_base(entry),
        "actor": _agent(ledger, entry.who),
        "verb": _verb("passed" if data["passed"] else "failed"),
        "object": _activity(),
        "result": {"score": score, "success": bool(data["passed"]), "completion": True},
        "context": {"platform": "Leg to Leg", "language": "en", "extensions": extensions},
    }


def _voiding(entry: Entry, ledger: str, wrong: str) -> dict[str, object]:
    return {
        **_base(entry),
        "actor": _agent(ledger, "shop"),
        "verb": _verb("voided"),
        "object": {"objectType": "StatementRef", "id": wrong},
        "context": {"extensions": _proof(entry)},
    }


def _outcome_meant(entries: Sequence[Entry], correction: Entry) -> Entry:
    """Return the entry that a correction, or a correction of one, is about in the end."""
    meant = correction
    while meant.kind == CORRECTED:
        meant = entries[meant.data["entry"] - 1]
    return meant


def statements(entries: Sequence[Entry]) -> list[dict[str, object]]:
    """Return a statement for each outcome, in order, and what corrections make of them.

    An outcome that does not count any more is voided. One that counts again is stated anew, because the standard
    has no way back from voided.
    """
    ledger = str(entries[0].data["ledger"])
    made: list[dict[str, object]] = []
    stated: dict[int, str] = {}
    for entry in entries:
        about = _outcome_meant(entries, entry)
        if about.kind != RECORDED:
            continue
        counts = any(one.number == about.number for one in in_force(entries[: entry.number]))
        if counts and about.number not in stated:
            made.append({**_outcome(about, ledger), **_base(entry)})
            stated[about.number] = statement_id(entry)
        elif not counts and about.number in stated:
            made.append(_voiding(entry, ledger, stated.pop(about.number)))
    return made
