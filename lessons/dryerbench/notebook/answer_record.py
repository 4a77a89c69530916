"""The answer record: what a hand-in leaves in the cell's output, as plain data."""

from __future__ import annotations

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
