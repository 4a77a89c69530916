"""What stands in a shop's ledger: its kinds of entry, and what may stand there once only."""

from __future__ import annotations

from legtoleg.ledger.entry import CORRECTED, OPENED, EntryData, Form

ISSUED, RECORDED = "issued", "recorded"
CALLED, WORKED, TALKED = "called", "worked", "talked"
KINDS = (OPENED, ISSUED, RECORDED, CALLED, WORKED, TALKED, CORRECTED)


def once_of(kind: str, data: EntryData) -> str | None:
    """Return what may stand in a ledger once only: the outcome of one issue, the opening; None for the rest."""
    if kind == OPENED:
        return OPENED
    if kind == ISSUED:
        return f"{kind} {data['issue']}"
    return f"{kind} {data['issue']} {data.get('again', 0)}" if kind == RECORDED else None


RESTORE = "restore the last backup into a new folder (legtoleg refresher restore)"
"""What to do about a damaged ledger."""
FORM = Form("leg-to-leg/ledger/1", KINDS, once_of, RESTORE)
"""The form of a shop's ledger."""
