"""Recordings: a test that came back is matched with who got it, marked, and entered, once."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from nbformat.notebooknode import NotebookNode

from dryerbench.core.errors import LegToLegError
from legtoleg.core.files import write_whole
from legtoleg.intake.answered import answered
from legtoleg.intake.inbox import ReceivedFile, open_received
from legtoleg.intake.notebook_repair import RepairedNotebook, UnreadableNotebookError, repair
from legtoleg.intake.roster import Person
from legtoleg.intake.submissions import digest
from legtoleg.ledger.corrections import in_force
from legtoleg.ledger.entry import Entry
from legtoleg.ledger.ledger import TwiceError
from legtoleg.marking.outcomes import Outcome
from legtoleg.refresher.record.history import Issue, history
from legtoleg.refresher.record.ledger_entry import RECORDED
from legtoleg.refresher.record.shop import Shop
from legtoleg.refresher.testing.issuing import covered, items_of
from legtoleg.refresher.testing.question_pool import PoolQuestion
from legtoleg.refresher.testing.result_page import result_page
from legtoleg.refresher.testing.test_marking import Marked, mark
from legtoleg.refresher.testing.test_notebook import LESSON, notebook
from legtoleg.sandbox.engine import Engine

RECEIVED, RESULTS = "received", "results"


class NotRecordedError(LegToLegError, ValueError):
    """A file that cannot be recorded; the text says why and what to do."""


@dataclass(frozen=True)
class Recorded:
    """What became of one file: whose test, what it came to, its entry, and the page for the person."""

    person: Person
    issue: Issue
    marked: Marked
    entry: Entry
    page: Path
    next_attempt: int


def _issues(entries: list[Entry]) -> dict[str, Issue]:
    counted = in_force(entries)
    people = {entry.who for entry in counted if entry.who}
    return {issue.name: issue for who in people for issue in history(counted, who).issues}


def _named(name: str, people: dict[str, Person]) -> set[str]:
    """Return whose ids stand in a file's own name."""
    stem = Path(name).stem.lower()
    return {who for who in people if re.search(rf"(?<![a-z0-9]){re.escape(who.lower())}(?![a-z0-9])", stem)}


def _whose(shop: Shop, piece: ReceivedFile, rescued: RepairedNotebook, entries: list[Entry], said: str) -> Issue:
    """Return the issue that ``piece`` is; every doubt is an error, since a record must be somebody's beyond doubt."""
    marks = {mark for mark in (piece.kit_id, *rescued.claimed) if mark}
    if not marks or (rescued.lesson != LESSON and not any(".r" in mark for mark in marks)):
        raise NotRecordedError("is no refresher: nothing in it says so. A lesson goes to “legtoleg collect”.")
    if len(marks) > 1:
        both = " and ".join(sorted(mark[:80] for mark in marks))
        raise NotRecordedError(
            f"holds answers of two tests, {both}: someone else's work is in it. Nothing was entered."
        )
    mark_ = next(iter(marks))
    issue = _issues(entries).get(mark_)
    if issue is None:
        raise NotRecordedError(f"is the test {mark_[:80]!r}, which this shop never gave out. Nothing was entered.")
    named = _named(piece.name, shop.people()) - {issue.entry.who}
    other = said or (next(iter(named)) if named and issue.entry.who not in _named(piece.name, shop.people()) else "")
    if other and other != issue.entry.who:
        raise NotRecordedError(
            f"is the test of {issue.entry.who}, and was handed in as that of {other}. Nothing was entered. Ask both."
        )
    if issue.outcome is not None:
        raise TwiceError(f"{_when(issue)} Nothing was entered.")
    return issue


def _is_begun(rescued: RepairedNotebook, given: NotebookNode, items: list[PoolQuestion]) -> bool:
    """Tell whether anything is answered that the test which was ``given`` out does not hold."""
    return any(answered(rescued.notebook, given, lesson) for lesson in {item.lesson for item in items})


def _when(issue: Issue) -> str:
    assert issue.outcome is not None
    return f"was recorded before: entry {issue.outcome.number}, on {issue.outcome.on}."


def _question(item: PoolQuestion, marked: Marked) -> dict[str, object]:
    outcome = next(one for own, one in marked.outcomes if own is item)
    return {
        "question": item.name,
        "lesson": item.lesson,
        "topic": item.topic,
        "points": outcome.points,
        "of": outcome.max_points,
        "note": outcome.note,
        "safety": outcome.safety,
    }


class Recorder:
    """Records tests of one shop; notebooks run in ``engine``. ``sealed`` are outcomes by issue that a class wrote."""

    def __init__(
        self, shop: Shop, engine: Engine, said: str = "", sealed: Mapping[str, Mapping[str, Outcome]] | None = None
    ) -> None:
        self.shop, self.engine, self.sealed = shop, engine, sealed or {}
        self.said = shop.person(said).id if said else ""

    def pieces(self, paths: list[Path]) -> Iterator[ReceivedFile]:
        """Yield the notebooks in files, folders and zips."""
        for path in paths:
            yield from open_received(path)

    def record(self, piece: ReceivedFile) -> Recorded:
        """Mark one notebook and enter what it came to.

        Raises
        ------
        NotRecordedError
            If it is no test of this shop, in doubt whose it is, or as it was given out.
        TwiceError
            If it was recorded before.
        ShopError
            If who got it does not work here any more.
        EngineError
            If notebooks cannot be run here.
        """
        if piece.refused:
            raise NotRecordedError(f"was not opened: {piece.refused}.")
        try:
            rescued = repair(piece.content)
        except UnreadableNotebookError as error:
            raise NotRecordedError(f"cannot be read: {error}.") from None
        entries = self.shop.entries()
        issue = _whose(self.shop, piece, rescued, entries, self.said)
        person = self.shop.person(issue.entry.who)
        items = items_of(issue.entry)
        given = notebook(issue.name, person.id, person.name, issue.entry.on, items)
        if issue.name not in self.sealed and not _is_begun(rescued, given, items):
            raise NotRecordedError(
                f"is the test of {person.id} as it was given out: nothing in it is answered. Nothing was entered. "
                "Record the file that came back."
            )
        marked = mark(issue.name, items, given, rescued, self.engine, self.sealed.get(issue.name))
        return self._enter(issue, person, items, marked, piece.content)

    def _enter(
        self, issue: Issue, person: Person, items: list[PoolQuestion], marked: Marked, content: bytes
    ) -> Recorded:
        """Keep the file and write the page first, the entry last: a kill leaves only work to repeat."""
        shop = self.shop
        write_whole(shop.folder / RECEIVED / f"{issue.name}-{digest(content)[:16]}.ipynb", content)
        page = shop.folder / RESULTS / f"{issue.name}.html"
        attempt = issue.attempt if marked.passed else issue.attempt + 1
        write_whole(page, result_page(shop, person, issue, marked, attempt).encode("utf-8"))
        struck = [one for one in shop.entries() if one.kind == RECORDED and one.data["issue"] == issue.name]
        data = {
            "issue": issue.name,
            "attempt": issue.attempt,
            "again": len(struck),
            "passed": marked.passed,
            "points": marked.points,
            "of": marked.of,
            "topics": covered(items, shop.topics),
            "held": marked.held,
            "questions": [_question(item, marked) for item in items],
            "file": digest(content),
        }

        def unless(entries: list[Entry]) -> None:
            standing = _issues(entries).get(issue.name)
            if standing is None or standing.outcome is not None:
                raise TwiceError(f"{_when(standing) if standing else 'does not count any more.'} Nothing was entered.")

        entry = shop.enter(shop.draft(RECORDED, person.id, shop.today(), **data), unless)
        after = history(in_force(shop.entries()), person.id)
        return Recorded(person, issue, marked, entry, page, after.next_attempt)
