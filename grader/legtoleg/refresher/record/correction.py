"""Corrections in a shop's ledger: what may be corrected there, and whose standing it changes."""

from __future__ import annotations

from legtoleg.ledger.corrections import correction, refuse_correction
from legtoleg.ledger.entry import CORRECTED, OPENED, Entry
from legtoleg.refresher.record.ledger_entry import ISSUED
from legtoleg.refresher.record.shop import Shop


def correct(shop: Shop, number: int, reason: str, by: str) -> Entry:
    """Enter that entry ``number`` does not count, and return the correction.

    Raises
    ------
    CorrectionError
        If there is no such entry, it does not count already, or is none that can be corrected.
    """
    data = correction(number, reason, by)

    def unless(now: list[Entry]) -> None:
        refuse_correction(now, number, (OPENED, ISSUED), "opens the ledger or gives out a test")

    entries = shop.entries()
    unless(entries)
    return shop.enter(shop.draft(CORRECTED, entries[number - 1].who, shop.today(), **data), unless)
