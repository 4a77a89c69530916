"""What all handlers of the class service share: receipts, board, desk, and the pages that listen."""

from __future__ import annotations

import asyncio
import json
from contextlib import suppress

from legtoleg.classroom.board_rows import row
from legtoleg.classroom.board_state import Board
from legtoleg.classroom.class_folder import ClassFolder
from legtoleg.classroom.desk import Desk
from legtoleg.classroom.quotas import disk_trouble, trouble_of
from legtoleg.classroom.receipts import Receipts
from legtoleg.intake.roster import Person, RosterError


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
        self.watchers: set[asyncio.Queue[str]] = set()

    def look(self) -> None:
        """See what goes short in the class."""
        with suppress(OSError):
            self.disk = disk_trouble(self.folder)
        self.troubles = {who: words for who in list(self.people) if (words := trouble_of(self.folder, who))}

    def _row(self, one: Person) -> dict[str, object]:
        return row(self.folder.cohort, self.board, self.receipts, one) | {"trouble": self.troubles.get(one.id, "")}

    def rows(self) -> list[dict[str, object]]:
        """Return all rows of the board."""
        return [self._row(one) for one in self.people.values()]

    def tell(self, kind: str, content: object) -> None:
        """Tell every open board."""
        text = f"event: {kind}\ndata: {json.dumps(content)}\n\n"
        for watcher in self.watchers:
            watcher.put_nowait(text)

    def _tell_desk(self, kind: str, said: object) -> None:
        """Tell what the desk says; when it has finished, what came of it is on the board at once."""
        self.tell(kind, said)
        if not self.desk.said["busy"]:
            self.tell("rows", self.rows())

    def tell_row(self, who: str) -> None:
        """Tell every open board the row of ``who``."""
        if who in self.people and self.watchers:
            self.tell("row", self._row(self.people[who]))

    def read_roster(self) -> None:
        """Look who is on the roster now; while it is damaged, who was there before stays."""
        with suppress(RosterError):
            self.people = {person.id: person for person in self.folder.cohort.people()}
