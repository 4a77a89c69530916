"""The answer record: what a hand-in leaves in the cell's output, as plain data."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping

from dryerbench.answers.answer import Answer
from dryerbench.core.errors import UnreadableAnswerError
from dryerbench.core.version import FIELD, course_version

MIME = "application/vnd.leg-to-leg.answer+json"
"""The media type under which a record stands in a cell's output."""

FORM = 1
"""The version of the record's form."""

DEAL = 2
"""The version of how letters are dealt: from 2 on the options are in the order of their keys before they are dealt."""


def dealt_record(record: dict[str, object], try_number: int) -> dict[str, object]:
    """Return ``record`` with the card and the dealing of letters that it belongs to."""
    return {**record, "try": try_number, "deal": DEAL}


def answer_record(question: str, apprentice: str, answer: Answer) -> dict[str, object]:
    """Return the record of an answer that could be read; ``working`` is in it where a sum was typed."""
    worked = {"working": answer.working} if answer.working else {}
    return {
        "form": FORM,
        FIELD: course_version(),
        "question": question,
        "apprentice": apprentice,
        "kind": answer.kind,
        "typed": answer.typed,
        "magnitude": answer.magnitude if answer.kind == "quantity" else None,
        "unit": answer.unit,
        "figures": answer.figures,
        **worked,
    }


def unread_record(question: str, apprentice: str, typed: str, error: UnreadableAnswerError) -> dict[str, object]:
    """Return the record of an answer that could not be read, with the short reason."""
    kind = "blank" if error.reason == "blank" else "unreadable"
    return {
        "form": FORM,
        FIELD: course_version(),
        "question": question,
        "apprentice": apprentice,
        "kind": kind,
        "typed": typed[:200],
        "magnitude": None,
        "unit": "",
        "figures": None,
        "reason": error.reason,
    }


def whole_mark_of(record: Mapping[str, object]) -> str:
    """Return a short mark of all that a record says, the acts on a bench too, whichever version of the course."""
    said = {name: value for name, value in record.items() if name not in ("form", FIELD)}
    return hashlib.sha256(json.dumps(said, sort_keys=True).encode("ascii")).hexdigest()[:16]


BOX = "box"
"""What ``by`` says in the record of an answer that was given in the box under its question."""


def boxed_record(record: Mapping[str, object], over: Mapping[str, object] | None) -> dict[str, object]:
    """Return ``record`` as given in a box, while the code cell above it said what the record ``over`` says."""
    return {**record, "by": BOX, "over": mark_of(over)}


def mark_of(record: Mapping[str, object] | None) -> str:
    """Return a short mark of what a record says was answered; empty for no answer.

    Records of one answer have one mark, whoever made them, when and by which version of the course.
    """
    if record is None or record.get("kind") == "blank":
        return ""
    rows = record.get("rows")
    typed = (
        {key: row.get("typed") for key, row in rows.items() if isinstance(row, dict)} if isinstance(rows, dict) else ""
    )
    said = [record.get("letters", ""), typed, record.get("typed", "")]
    return hashlib.sha256(json.dumps(said, sort_keys=True).encode("ascii")).hexdigest()[:16]


def stands(boxed: Mapping[str, object], code: Mapping[str, object] | None) -> bool:
    """Tell whether an answer from a box still counts: as long as its code cell says what it said then."""
    return boxed.get("by") == BOX and boxed.get("over") == mark_of(code)
