"""Chains: the proof that a ledger is whole, row by row, and what that proof cannot say."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from dryerbench.core.errors import LegToLegError
from legtoleg.refresher.record.ledger_entry import OPENED, START, Entry, EntryError, chained, once_of, read_entry

LIMITS = (
    "This proves that no entry was changed, removed from the middle, added in the middle or moved. It cannot prove "
    "that nobody replaced the whole ledger, or cut off its end and the note beside it. So keep the last hash somewhere "
    "else too: it is printed on every certificate, and “verify --kept HASH” looks for it. A hash proves that a record "
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


def row_of(entry: Entry) -> Row:
    """Return the row that holds ``entry``."""
    return Row(entry.number, entry.body(), entry.before, entry.hash, once_of(entry.kind, entry.data))


def _damaged(number: int, why: str) -> DamagedLedgerError:
    return DamagedLedgerError(
        f"The ledger is damaged at entry {number}: {why}. Nothing was changed. Keep the damaged ledger, and restore "
        "the last backup into a new folder (legtoleg refresher restore)."
    )


def _checked(row: Row, number: int, before: str) -> Entry:
    if type(row.number) is not int or row.number != number:
        raise _damaged(number, "it is missing or out of place")
    if type(row.body) is not str or type(row.before) is not str or type(row.hash) is not str:
        raise _damaged(number, "it is not text any more")
    if row.before != before:
        raise _damaged(number, "it does not follow the entry before it")
    if row.hash != chained(number, before, row.body):
        raise _damaged(number, "its hash does not fit what it says")
    try:
        entry = read_entry(number, before, row.body, row.hash)
    except EntryError as error:
        raise _damaged(number, str(error)) from None
    if row.once != once_of(entry.kind, entry.data):
        raise _damaged(number, "what may stand there once only was changed")
    if (entry.kind == OPENED) != (number == 1):
        raise _damaged(number, "a ledger is opened by its first entry, and by no other")
    return entry


def followed(rows: Iterable[Row]) -> list[Entry]:
    """Return the entries of a whole ledger.

    Raises
    ------
    DamagedLedgerError
        At the first row that is not as it was entered.
    """
    entries: list[Entry] = []
    before = START
    try:
        for number, row in enumerate(rows, 1):
            entries.append(_checked(row, number, before))
            before = entries[-1].hash
    except (UnicodeEncodeError, UnicodeDecodeError):
        raise _damaged(len(entries) + 1, "it is not readable text") from None
    if not entries:
        raise _damaged(1, "there is no entry at all")
    return entries


def holds(entries: Sequence[Entry], kept: str) -> Entry | None:
    """Return the entry whose hash is ``kept``, or begins with it (12 digits or more); None if there is none."""
    wanted = kept.strip().lower()
    return next((one for one in entries if len(wanted) >= 12 and one.hash.startswith(wanted)), None)
