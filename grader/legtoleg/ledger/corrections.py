"""Corrections: a wrong entry is never changed; a new one says that it does not count, and why."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from dryerbench.core.errors import LegToLegError
from legtoleg.core.outside_words import plain_words
from legtoleg.ledger.entry import CORRECTED, Entry


class CorrectionError(LegToLegError, ValueError):
    """A correction that cannot be entered."""


def corrections(entries: Sequence[Entry]) -> dict[int, Entry]:
    """Return by number which entries do not count any more, and the correction that says so, itself not corrected."""
    struck: dict[int, Entry] = {}
    for entry in reversed(entries):
        if entry.kind == CORRECTED and entry.number not in struck:
            struck[int(entry.data["entry"])] = entry
    return struck


def in_force(entries: Sequence[Entry]) -> list[Entry]:
    """Return the entries that count, in order."""
    struck = corrections(entries)
    return [entry for entry in entries if entry.number not in struck]


def refuse_correction(entries: Sequence[Entry], number: int, kept: Collection[str], why: str) -> None:
    """Let entry ``number`` be corrected, or say why it cannot be; entries of the kinds ``kept`` never are: ``why``.

    Raises
    ------
    CorrectionError
        If there is no such entry, it does not count already, or is none that can be corrected.
    """
    if not 1 <= number <= len(entries):
        raise CorrectionError(f"There is no entry {number}; the ledger has {len(entries)}.")
    struck = corrections(entries)
    if number in struck:
        raise CorrectionError(f"Entry {number} does not count already: entry {struck[number].number} says so.")
    if entries[number - 1].kind in kept:
        raise CorrectionError(f"Entry {number} {why}: there is nothing to correct.")


def correction(number: int, reason: str, by: str) -> dict[str, object]:
    """Return what a correction of entry ``number`` says.

    Raises
    ------
    CorrectionError
        If nobody says why, or who says so.
    """
    why, who = plain_words(reason, 500), plain_words(by, 200)
    if not why or not who:
        raise CorrectionError("Say why (--reason) and who says so (--by).")
    return {"entry": number, "reason": why, "by": who}
