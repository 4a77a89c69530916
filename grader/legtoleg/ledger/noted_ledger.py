"""A ledger with its last hash noted in a file beside it: a cut end, or an older copy in its place, is found."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

from legtoleg.core.files import write_whole
from legtoleg.ledger.entry import Draft, Entry
from legtoleg.ledger.hash_chain import DamagedLedgerError
from legtoleg.ledger.ledger import Ledger, LedgerError

NOTE = "last-hash.txt"
_CLOCK = timedelta(minutes=10)


class NotedLedger:
    """The ``ledger`` whose last hash stands in the file ``path``."""

    def __init__(self, ledger: Ledger, path: Path) -> None:
        self.ledger, self.path = ledger, path

    @property
    def noted(self) -> bool:
        """Tell whether the last hash is noted beside the ledger, as it is from the first entry on."""
        return self.path.exists()

    def entries(self) -> list[Entry]:
        """Return the whole ledger, compared with the last hash that was noted beside it.

        Raises
        ------
        DamagedLedgerError
            If it is not whole, or lacks what was noted.
        """
        entries = self.ledger.entries()
        self._compare(entries)
        return entries

    def make(self, first: Draft) -> Entry:
        """Make the ledger with its ``first`` entry and note its hash.

        Raises
        ------
        LedgerError
            If there is one already.
        """
        entry = self.ledger.make(first)
        self.note(entry)
        return entry

    def enter(self, draft: Draft, unless: Callable[[list[Entry]], None] = lambda _: None) -> Entry:
        """Enter ``draft`` in one step and note its hash. ``unless`` sees all entries first, and may raise.

        Raises
        ------
        LedgerError
            If it cannot be entered, or the clock here runs behind the last entry.
        """

        def check(entries: list[Entry]) -> None:
            self._compare(entries)
            if draft.entered < entries[-1].entered - _CLOCK:
                raise LedgerError(
                    f"The clock here says {draft.entered:%Y-%m-%d %H:%M} UTC, and the last entry was made later, "
                    f"at {entries[-1].entered:%Y-%m-%d %H:%M}. Set the clock right; nothing was entered."
                )
            unless(entries)

        entry = self.ledger.append(draft, check)
        self.note(entry)
        return entry

    def note(self, entry: Entry) -> None:
        """Note the last hash beside the ledger; a kill before it leaves an older note, which still holds.

        Raises
        ------
        LedgerError
            If the note cannot be written; the entry is in the ledger then.
        """
        try:
            write_whole(self.path, f"{entry.number} {entry.hash}\n".encode("ascii"))
        except OSError as error:
            raise LedgerError(
                f"Entry {entry.number} is in the ledger, so do not enter it again; only the note of its hash in "
                f"{self.path.name} could not be written ({error.strerror or error}). It is written with the next entry."
            ) from None

    def _compare(self, entries: list[Entry]) -> None:
        name = self.path.name
        try:
            number, noted = self.path.read_text(encoding="ascii").split()[:2]
            place = int(number)
        except FileNotFoundError:
            return
        except OSError as error:
            raise LedgerError(f"{name} cannot be read ({error.strerror or error}): see who may read it.") from None
        except ValueError:
            raise DamagedLedgerError(
                f"{name} is damaged. If “verify --kept HASH” finds a hash that you kept elsewhere, the ledger is "
                "whole: delete the note, and it is written again with the next entry."
            ) from None
        if not 1 <= place <= len(entries) or entries[place - 1].hash != noted:
            cure = self.ledger.form.cure
            raise DamagedLedgerError(
                f"The ledger is damaged: entry {place}, noted in {name}, is not in it. Its end was cut off, or it was "
                f"replaced. {cure[:1].upper()}{cure[1:]}."
            )
