"""Corrections: a wrong entry is never changed; a new one says that it does not count, and why."""

from __future__ import annotations

from dryerbench.core.errors import LegToLegError
from legtoleg.ledger.entry import CORRECTED, OPENED, Entry
from legtoleg.refresher.record.history import corrections
from legtoleg.refresher.record.ledger_entry import ISSUED
from legtoleg.refresher.record.shop import Shop


class CorrectionError(LegToLegError, ValueError):
    """A correction that cannot be entered."""


def correct(shop: Shop, number: int, reason: str, by: str) -> Entry:
    """Enter that entry ``number`` does not count, and return the correction.

    Raises
    ------
    CorrectionError
        If there is no such entry, it does not count already, or is none that can be corrected.
    """
    if not reason.strip() or not by.strip():
        raise CorrectionError("Say why (--reason) and who says so (--by).")
    entries = shop.entries()
    if not 1 <= number <= len(entries):
        raise CorrectionError(f"There is no entry {number}; the ledger has {len(entries)}.")
    wrong = entries[number - 1]

    def unless(now: list[Entry]) -> None:
        struck = corrections(now)
        if number in struck:
            raise CorrectionError(f"Entry {number} does not count already: entry {struck[number].number} says so.")
        if wrong.kind in (OPENED, ISSUED):
            raise CorrectionError(f"Entry {number} opens the ledger or gives out a test: there is nothing to correct.")

    data = {"entry": number, "reason": reason.strip()[:500], "by": by.strip()[:200]}
    return shop.enter(shop.draft(CORRECTED, wrong.who, shop.today(), **data), unless)
