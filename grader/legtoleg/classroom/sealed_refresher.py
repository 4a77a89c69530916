"""A refresher at the class's door: its page comes and goes by the seat's socket, its bench is sealed."""

from __future__ import annotations

import hashlib
import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import nbformat

from dryerbench.core.errors import LegToLegError
from legtoleg.classroom.class_folder import ClassFolder
from legtoleg.classroom.receipts import durable
from legtoleg.classroom.sealed_book import SealedBook, SupervisedError, SupervisedTest
from legtoleg.classroom.sealed_dealing import REFRESHER, Dealer
from legtoleg.classroom.sealed_marking import bench_outcomes, still_open
from legtoleg.classroom.sealed_room import NOT_YOURS, Answer, RefusedError, SealedRoom, not_kept
from legtoleg.intake.inbox import open_received
from legtoleg.refresher.record.shop import Shop
from legtoleg.refresher.testing.issuing import issue
from legtoleg.refresher.testing.question_pool import pool
from legtoleg.refresher.testing.recording import Recorded, Recorder
from legtoleg.refresher.testing.test_notebook import file_name, notebook
from legtoleg.sandbox.engine import Engine


def open_refresher(folder: ClassFolder, shop: Shop, whos: Sequence[str], minutes: float) -> SupervisedTest:
    """Give each of ``whos`` a refresher of ``shop`` to take at the class's door, and enter that in its ledger.

    Raises
    ------
    LegToLegError
        If somebody has no seat here, does not work there, or it is the instructor's turn.
    """
    seats = {person.id.lower(): person.id for person in folder.cohort.people()}
    gone = [who for who in whos if who.lower() not in seats]
    if gone:
        raise SupervisedError(f"{gone[0]} has no seat in this class: put that id on the cohort's roster first.")
    book, whos = SealedBook.of(folder), [seats[who.lower()] for who in whos]
    busy = [who for who in whos if any(book.is_open(one, who) for one in book.tests_of(who))]
    if busy:
        raise SupervisedError(f"{busy[0]} has a supervised test open: close that one first, or wait until it ends.")
    takers = {}
    for who in whos:
        given = issue(shop, who)
        takers[who] = {
            "shop": str(shop.folder.resolve()),
            "issue": given.issue.name,
            "name": given.person.name,
            "on": given.issue.entry.on.isoformat(),
            "items": [[item.lesson, item.name] for item in given.items],
        }
    return book.open(REFRESHER, takers, minutes)


def _told(room: SealedRoom, who: str, test: str) -> dict[str, object]:
    told = room.book.takers(test).get(who)
    if told is None or "issue" not in told:
        raise RefusedError(403, NOT_YOURS)
    return told


def page_of(room: SealedRoom, who: str, test: str) -> Answer:
    """Return the page of the refresher ``test`` of ``who``, to be written into the own home.

    Raises
    ------
    RefusedError
        If it is not theirs, or has ended.
    """
    told = _told(room, who, test)
    room.mine(who, test)
    items = told["items"]
    assert isinstance(items, list)
    on = date.fromisoformat(str(told["on"]))
    page = notebook(str(told["issue"]), who, str(told["name"]), on, [pool()[name] for _, name in items], sealed=test)
    return Answer.of(200, file=file_name(who), page=str(nbformat.writes(page)) + "\n")


def came(folder: ClassFolder, test: str, who: str) -> Path:
    """Return where the page that ``who`` handed in is kept."""
    return folder.root / "supervised" / test / file_name(who)


def take_page(room: SealedRoom, folder: ClassFolder, who: str, test: str, content: bytes) -> Answer:
    """Keep the page, end the test for ``who``, and answer with a receipt; the same page again, the same receipt.

    Raises
    ------
    RefusedError
        If it is not theirs, has ended, or could not be kept.
    """
    _told(room, who, test)
    place = came(folder, test, who)
    there = place.is_file() and place.read_bytes() == content
    if not there:
        room.mine(who, test)
    try:
        if not there:
            durable(place, content)
        room.book.end(test, who)
    except (OSError, sqlite3.Error):
        raise not_kept() from None
    return Answer.of(200, sha256=hashlib.sha256(content).hexdigest(), size=len(content))


@dataclass(frozen=True)
class Refreshed:
    """What became of one refresher: recorded, or why not."""

    who: str
    recorded: Recorded | None
    trouble: str = ""


def record_refresher(folder: ClassFolder, test: str, engine: Engine) -> list[Refreshed]:
    """Mark what came of ``test``, with the class's own trail for the bench, and enter it in the shop's ledger, once.

    Raises
    ------
    SupervisedError
        If there is no such test, it is none of a refresher, or somebody still works on it.
    """
    book, dealer = SealedBook.of(folder), Dealer.of(folder)
    if book.test(test).kind != REFRESHER:
        raise SupervisedError(f"{test} is no refresher. Use: supervised mark.")
    still_open(book, test)
    found = []
    for who, told in book.takers(test).items():
        place = came(folder, test, who)
        if not place.is_file():
            found.append(Refreshed(who, None, "Handed no page in: nothing was entered, and the test stays given out."))
            continue
        outcomes = {one.question: one for one in bench_outcomes(book, dealer, test, who)}
        try:
            recorder = Recorder(Shop.at(Path(str(told["shop"]))), engine, who, {str(told["issue"]): outcomes})
            done = [recorder.record(piece) for piece in open_received(place)]
        except LegToLegError as error:
            found.append(Refreshed(who, None, str(error)))
        else:
            found.append(Refreshed(who, done[-1]))
    return found
