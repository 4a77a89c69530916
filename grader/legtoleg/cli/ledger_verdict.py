"""What is said of a ledger that was verified: whole or not, and what that does not prove."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from legtoleg.cli.terminal import say_line

if TYPE_CHECKING:
    from legtoleg.ledger.entry import Entry
    from legtoleg.ledger.ledger import Ledger


def say_verdict(ledger: Ledger, entries: Sequence[Entry], kept: str) -> bool:
    """Say that ``ledger``, whose chain was followed, is whole, and look for ``kept``; return whether it is guarded.

    Raises
    ------
    DamagedLedgerError
        If the database's own check finds damage, or ``kept`` is not in the ledger.
    """
    from legtoleg.ledger.hash_chain import LIMITS, DamagedLedgerError, holds

    examined = ledger.examine()
    say_line(f"Whole: {len(entries)} entries, each chained to the one before. Last hash: {entries[-1].hash}")
    if examined:
        say_line("The database has examined its own file and found nothing wrong.")
    guarded = ledger.guarded()
    if not guarded:
        say_line("! The database no longer refuses changes by itself: someone has switched that off. Ask who, and why.")
    if kept:
        found = holds(entries, kept)
        if found is None:
            raise DamagedLedgerError(
                f"The hash {kept[:80]} is not in this ledger (give 12 digits or more): the ledger was replaced, or the "
                "hash is another ledger's, or was mistyped."
            )
        say_line(f"The hash that you kept is that of entry {found.number}, entered {found.entered:%Y-%m-%d %H:%M} UTC.")
    say_line(LIMITS)
    return guarded
