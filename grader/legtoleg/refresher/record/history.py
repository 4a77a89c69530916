"""Histories: what the ledger says of one person, after the corrections that stand in it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from legtoleg.ledger.entry import Entry
from legtoleg.refresher.record.ledger_entry import CALLED, ISSUED, RECORDED, TALKED, WORKED

ATTEMPTS = 2
"""A test and one retry; then the instructor takes over."""


@dataclass(frozen=True)
class Issue:
    """One test that was given out: its entry, and what came of it, if something did."""

    entry: Entry
    outcome: Entry | None = None

    @property
    def name(self) -> str:
        """The name of this issue."""
        return str(self.entry.data["issue"])

    @property
    def attempt(self) -> int:
        """Which try it is in its round, from 1."""
        return int(self.entry.data["attempt"])

    @property
    def passed(self) -> bool:
        """Tell whether it was passed."""
        return self.outcome is not None and bool(self.outcome.data["passed"])


@dataclass(frozen=True)
class History:
    """What counts of one person, in order."""

    who: str
    entries: tuple[Entry, ...]

    @property
    def issues(self) -> list[Issue]:
        """Every test given out, in order."""
        outcomes = {entry.data["issue"]: entry for entry in self.entries if entry.kind == RECORDED}
        return [Issue(e, outcomes.get(e.data["issue"])) for e in self.entries if e.kind == ISSUED]

    @property
    def open_issue(self) -> Issue | None:
        """The test that was given out last, if nothing came of it yet."""
        last = self.issues[-1:]
        return last[0] if last and last[0].outcome is None else None

    @property
    def next_attempt(self) -> int:
        """Which try comes next; above ``ATTEMPTS`` it is the instructor's turn."""
        tries = 0
        for entry in self.entries:
            if entry.kind == TALKED or (entry.kind == RECORDED and entry.data["passed"]):
                tries = 0
            elif entry.kind == RECORDED:
                tries += 1
        return tries + 1

    @property
    def last_missed(self) -> list[dict[str, object]]:
        """The questions missed in the last test that was recorded."""
        last = [entry for entry in self.entries if entry.kind == RECORDED][-1:]
        return [one for one in last[0].data["questions"] if one["points"] < one["of"]] if last else []


def history(entries: Iterable[Entry], who: str) -> History:
    """Return the history of ``who`` out of what counts."""
    return History(who, tuple(entry for entry in entries if entry.who == who))


def topics_of(entry: Entry) -> list[str]:
    """Return the topics that an entry renews or calls for."""
    if entry.kind == RECORDED:
        return list(entry.data["topics"] if entry.data["passed"] else entry.data["held"])
    return list(entry.data["topics"]) if entry.kind in (CALLED, WORKED) else []
