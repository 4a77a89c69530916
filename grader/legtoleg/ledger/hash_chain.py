"""Chains: the proof that a ledger is whole, row by row, and what that proof cannot say."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from dryerbench.core.errors import LegToLegError
from legtoleg.ledger.entry import OPENED, START, Entry, EntryError, Form, chained, read_entry

LIMITS = (
    "This proves that no entry was changed, removed from the middle, added in the middle or moved. It cannot prove "
    "that nobody replaced the whole ledger, or cut off its end and the note beside it. So keep the last hash somewhere "
    "else too: “verify --kept HASH” looks for it. A hash proves that a record "
    "was not changed, not that it was true when it was entered."
)


class DamagedLedgerError(LegToLegError, ValueError):
    """A ledger that is not whole; the text says which entry and what to do."""


@dataclass(frozen=True)
class Row:
    """One row as it is stored; anything may stand in it after damage."""

    number: object
    body: object
    before: object
    hash: object
    once: object


def row_of(form: Form, entry: Entry) -> Row:
    """Return the row that holds ``entry`` in a ledger of ``form``."""
    return Row(entry.number, entry.body(), entry.before, entry.hash, form.once(entry.kind, entry.data))


def _damaged(form: Form, number: int, why: str) -> DamagedLedgerError:
    return DamagedLedgerError(
        f"The ledger is damaged at entry {number}: {why}. Nothing was changed. Keep the damaged ledger, and "
        f"{form.cure}."
    )


def _checked(form: Form, row: Row, number: int, before: str) -> Entry:
    if type(row.number) is not int or row.number != number:
        raise _damaged(form, number, "it is missing or out of place")
    if type(row.body) is not str or type(row.before) is not str or type(row.hash) is not str:
        raise _damaged(form, number, "it is not text any more")
    if row.before != before:
        raise _damaged(form, number, "it does not follow the entry before it")
    if row.hash != chained(form, number, before, row.body):
        raise _damaged(form, number, "its hash does not fit what it says")
    try:
        entry = read_entry(form, number, before, row.body, row.hash)
    except EntryError as error:
        raise _damaged(form, number, str(error)) from None
    if row.once != form.once(entry.kind, entry.data):
        raise _damaged(form, number, "what can be there only once was changed")
    if (entry.kind == OPENED) != (number == 1):
        raise _damaged(form, number, "a ledger is opened by its first entry, and by no other")
    return entry


def followed(form: Form, rows: Iterable[Row]) -> list[Entry]:
    """Return the entries of a whole ledger of ``form``.

    Raises
    ------
    DamagedLedgerError
        At the first row that is not as it was entered.
    """
    entries: list[Entry] = []
    before = START
    try:
        for number, row in enumerate(rows, 1):
            entries.append(_checked(form, row, number, before))
            before = entries[-1].hash
    except (UnicodeEncodeError, UnicodeDecodeError):
        raise _damaged(form, len(entries) + 1, "it is not readable text") from None
    if not entries:
        raise _damaged(form, 1, "there is no entry at all")
    return entries


def holds(entries: Sequence[Entry], kept: str) -> Entry | None:
    """Return the entry whose hash is ``kept``, or begins with it (12 digits or more); None if there is none."""
    wanted = kept.strip().lower()
    return next((one for one in entries if len(wanted) >= 12 and one.hash.startswith(wanted)), None)
