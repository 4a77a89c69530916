"""What all handlers of the class service share: receipts, board, desk, and the pages that listen."""

from __future__ import annotations

import asyncio
import json
import sqlite3
from collections.abc import Mapping
from contextlib import suppress

from legtoleg.classroom.board_rows import row
from legtoleg.classroom.board_state import Board
from legtoleg.classroom.class_folder import ClassError, ClassFolder
from legtoleg.classroom.desk import Desk
from legtoleg.classroom.platform_settings import Platform
from legtoleg.classroom.quotas import disk_trouble, trouble_of
from legtoleg.classroom.receipts import Receipts
from legtoleg.classroom.sealed_book import SealedBook, UnderWay, book_of
from legtoleg.classroom.slips import FILE, deal_slips, kept_address, unused
from legtoleg.intake.roster import Person, RosterError

SLIPS = f"class/{FILE}"
UNKNOWN = "the class's address"
"""What a slip says where nobody has said at which address the class is."""


class Service:
    """What all handlers of one class share."""

    def __init__(self, folder: ClassFolder) -> None:
        self.folder = folder
        self.receipts = Receipts(folder)
        self.board = Board(folder.root / "board.json")
        self.board.changed = self.tell_row
        self.desk = Desk(folder, self._tell_desk)
        self.people: dict[str, Person] = {}
        self.troubles: dict[str, str] = {}
        self.disk = ""
        self.fresh: set[str] = set()
        """Whose slips were dealt while the class runs: the board says so until they are used."""
        self.watchers: set[asyncio.Queue[str]] = set()
        self._book: SealedBook | None = None
        self._told: dict[str, dict[str, object]] = {}
        """What the open boards know of each person."""

    @property
    def short(self) -> str:
        """What goes short in the class, and which slips are to be printed, in words."""
        slips = f"Print the new slips ({', '.join(sorted(self.fresh))}): {SLIPS}." if self.fresh else ""
        return " ".join(filter(None, [self.disk, slips]))

    def deal(self) -> bool:
        """Deal slips to those on the roster who have no account yet, where people log in by codes; tell if it went."""
        try:
            if Platform.of(self.folder) is None:
                dealt = deal_slips(self.folder, self.folder.cohort.here(), kept_address(self.folder, UNKNOWN))
                self.fresh |= {one.who for one in dealt}
        except (OSError, ClassError, RosterError):  # a full disk, a file half written: the next round tries again
            return False
        return True

    def look(self) -> None:
        """See what goes short in the class."""
        with suppress(OSError):
            self.disk = disk_trouble(self.folder)
        self.fresh &= {one.who for one in unused(self.folder)} if self.fresh else set()
        self.troubles = {who: words for who in list(self.people) if (words := trouble_of(self.folder, who))}

    def _tests(self) -> dict[str, UnderWay]:
        """Return the supervised tests under way, by id: from the sealed book, which is there once a test was opened."""
        with suppress(sqlite3.Error):
            if self._book is None and book_of(self.folder).is_file():
                self._book = SealedBook.of(self.folder)
            return self._book.under_way() if self._book is not None else {}
        return {}

    def _row(self, one: Person, tests: Mapping[str, UnderWay]) -> dict[str, object]:
        made = row(self.folder.cohort, self.board, self.receipts, one, tests.get(one.id))
        return made | {"trouble": self.troubles.get(one.id, "")}

    def rows(self) -> list[dict[str, object]]:
        """Return all rows of the board."""
        tests = self._tests()
        return [self._row(one, tests) for one in self.people.values()]

    def tell(self, kind: str, content: object) -> None:
        """Tell every open board."""
        text = f"event: {kind}\ndata: {json.dumps(content)}\n\n"
        for watcher in self.watchers:
            watcher.put_nowait(text)

    def watch(self, watcher: asyncio.Queue[str]) -> None:
        """Tell ``watcher`` from now on what changes, and first how everybody stands."""
        self.watchers.add(watcher)
        self.tell_rows(whole=True)

    def tell_rows(self, *, whole: bool = False) -> None:
        """Tell every open board what time or files have changed; with no board open nothing is worked out."""
        if not self.watchers:
            return
        rows = {str(one["id"]): one for one in self.rows()}
        changed = [one for who, one in rows.items() if one != self._told.get(who)]
        if whole or len(changed) > 1 or rows.keys() != self._told.keys():
            self.tell("rows", list(rows.values()))
        elif changed:
            self.tell("row", changed[0])
        self._told = rows

    def _tell_desk(self, kind: str, said: object) -> None:
        """Tell what the desk says; when it has finished, what came of it is on the board at once."""
        self.tell(kind, said)
        if not self.desk.said["busy"]:
            self.tell_rows()

    def tell_row(self, who: str) -> None:
        """Tell every open board the row of ``who``."""
        if who in self.people and self.watchers:
            self._told[who] = self._row(self.people[who], self._tests())
            self.tell("row", self._told[who])

    def read_roster(self) -> None:
        """Look who is on the roster now; while it is damaged, who was there before stays."""
        with suppress(RosterError):
            self.people = {person.id: person for person in self.folder.cohort.people()}
