"""Pages: who is due, and who may do what today, each as one file that stands by itself."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from legtoleg.core.outside_words import plain_words
from legtoleg.core.page_templates import template
from legtoleg.ledger.corrections import corrections, in_force
from legtoleg.ledger.entry import CORRECTED, OPENED, Entry
from legtoleg.refresher.record.due_list import BETWEEN, ORDER, DueLine, DueRow, Dues
from legtoleg.refresher.record.fading import fading
from legtoleg.refresher.record.history import history
from legtoleg.refresher.record.ledger_entry import CALLED, ISSUED, RECORDED, TALKED, WORKED
from legtoleg.refresher.record.safety_topics import Topic
from legtoleg.refresher.record.standing import CURRENT, DUE, NEVER, OVERDUE, Standing
from legtoleg.witness.witness_record import SEEN, Witnessed, last_seen
from legtoleg.witness.witness_record import words_of as seen_words

MOST_FADING = 4
"""Topics that are named as fading, for each person."""

SIGNS = {CURRENT: "✓", DUE: "◔", OVERDUE: "!", NEVER: "–"}
"""How a standing is shown, so that it reads without color."""


def state_words(state: str, days: int) -> str:
    """Return a state as a heading."""
    return {
        CURRENT: "Current",
        DUE: f"Due within {days} days",
        OVERDUE: "Overdue",
        NEVER: "Never passed here",
    }[state]


def _line(line: DueLine, topics: dict[str, Topic]) -> dict[str, object]:
    return {"topics": line.topics(topics), "when": line.when, "reason": line.reason, "state": line.state}


def _row(row: DueRow, topics: dict[str, Topic]) -> dict[str, object]:
    return {"name": row.person.name, "id": row.person.id, "lines": [_line(line, topics) for line in row.lines]}


def _topic(topic: Topic) -> dict[str, object]:
    return {
        "title": topic.title,
        "critical": topic.critical,
        "basis": topic.basis,
        "source": topic.source,
        "months": f"{topic.months} months" if topic.months else "no period",
        "idle": f"{topic.idle_months} months" if topic.idle_months else "–",
        "why": topic.why,
        "known_by": topic.known_by,
        "own": topic.own,
    }


def _about(dues: Dues) -> dict[str, object]:
    settings = dues.shop.settings
    return {
        "shop": settings.name,
        "day": dues.day.isoformat(),
        "zone": settings.zone,
        "days": settings.days,
        "jurisdiction": settings.jurisdiction,
        "topics": [_topic(topic) for topic in dues.shop.topics.values()],
        "signs": SIGNS,
    }


def due_page(dues: Dues) -> str:
    """Return the page of what is due on a day."""
    days = dues.shop.settings.days
    rows = {state: [_row(row, dues.shop.topics) for row in dues.rows(state)] for state in ORDER}
    sections = [{"state": state, "title": state_words(state, days), "rows": rows[state]} for state in ORDER]
    return template("refresher/due.html").render(**_about(dues), sections=sections)


def _cell(one: Standing) -> dict[str, object]:
    return {
        "state": one.state,
        "sign": SIGNS[one.state],
        "until": one.until.isoformat() if one.until else "",
        "since": "since " if one.called else "",
        "title": f"{one.topic.title}: {one.state}, {one.reason}",
    }


def _who(entry: Entry) -> str:
    """Return who entered ``entry`` by hand; ledgers of older versions may hold an entry without a name."""
    return plain_words(entry.data.get("by", "")) or "someone not named"


def words_of(entry: Entry, topics: dict[str, Topic]) -> str:
    """Return what an entry says, as one sentence."""
    data = entry.data

    def named(names: Sequence[str]) -> str:
        return BETWEEN.join(topics[name].title if name in topics else str(name) for name in names)

    said: dict[str, Callable[[], str]] = {
        OPENED: lambda: "ledger opened",
        ISSUED: lambda: f"test {data['issue']} given out, try {data['attempt']}",
        RECORDED: lambda: (
            f"test {data['issue']} {'passed' if data['passed'] else 'not passed'}, "
            f"{data['points']:g} of {data['of']:g} points"
            + (f"; safety questions missed in: {named(data['held'])}" if data["held"] else "")
        ),
        CALLED: lambda: f"{data['title']}: called back by {_who(entry)} for {named(data['topics'])}. {data['note']}",
        WORKED: lambda: f"seen doing the work by {_who(entry)}: {named(data['topics'])}",
        TALKED: lambda: f"worked through by the instructor, {_who(entry)}. {data['note']}",
        CORRECTED: lambda: f"entry {data['entry']} does not count: {data['reason']} (entered by {data['by']})",
    }
    return said[entry.kind]().strip()


KINDS = {
    OPENED: "set up",
    ISSUED: "test given out",
    RECORDED: "test graded",
    CALLED: "called back",
    WORKED: "work seen",
    TALKED: "gone through",
    CORRECTED: "correction",
}
"""What each kind of entry is called on pages and in lists."""


@dataclass(frozen=True)
class Listed:
    """One entry as a page or a list shows it; ``struck`` is the entry that says it does not count, or 0."""

    number: int
    on: str
    who: str
    kind: str
    words: str
    hash: str
    struck: int


def _in_order(entries: Sequence[Entry], kinds: Mapping[str, str], said: Callable[[Entry], str]) -> list[Listed]:
    """Return all ``entries`` of a ledger, each with the name of its kind and what is said of it."""
    struck = corrections(entries)
    return [
        Listed(
            entry.number,
            entry.on.isoformat(),
            entry.who,
            kinds[entry.kind],
            said(entry),
            entry.hash[:12],
            struck[entry.number].number if entry.number in struck else 0,
        )
        for entry in entries
    ]


def listed(entries: Sequence[Entry], topics: dict[str, Topic]) -> list[Listed]:
    """Return all ``entries`` in words, in order."""
    return _in_order(entries, KINDS, lambda entry: words_of(entry, topics))


WATCHED = {OPENED: "set up", SEEN: "watched", CORRECTED: "correction"}
"""What each kind of entry of the witness record is called on pages."""


def watched(entries: Sequence[Entry]) -> list[Listed]:
    """Return all ``entries`` of the witness record in words, in order."""
    return _in_order(entries, WATCHED, seen_words)


def _seen_cell(one: Witnessed | None) -> dict[str, str]:
    """Return what the page says of somebody at a real machine: a sign, a word, the day, and all of it in words."""
    if one is None:
        return {"state": NEVER, "sign": SIGNS[NEVER], "word": "not yet", "on": "", "title": "nobody has watched them"}
    state, word = (CURRENT, "seen") if one.passed else (OVERDUE, "not passed")
    return {"state": state, "sign": SIGNS[state], "word": word, "on": one.on.isoformat(), "title": one.words}


def shop_page(dues: Dues, entries: Sequence[Entry], seen: Sequence[Entry] = (), unread: str = "") -> str:
    """Return the shop's page: who may do what on a day, and everybody's history.

    ``seen`` are the entries of the shop's witness record; ``unread`` says why there are none, if it cannot be read.
    """
    topics = dues.shop.topics
    shown, last_machine, machines = listed(entries, topics), last_seen(seen), watched(seen)
    here = {one.person.id for one in dues.people}
    people = [
        {
            "name": one.person.name,
            "id": one.person.id,
            "good": one.may_work,
            "cells": [_cell(found) for found in one.found],
            "seen": _seen_cell(last_machine.get(one.person.id)),
            "machines": [line for line in machines if line.who == one.person.id],
            "history": [line for line in shown if line.who == one.person.id],
        }
        for one in dues.people
    ]
    fades = [
        {
            "name": one.person.name,
            "topics": [
                f"{found.topic.title} {found.known:.0%}"
                for found in fading(history(in_force(entries), one.person.id), topics, dues.day)[:MOST_FADING]
            ],
        }
        for one in dues.people
    ]
    heads = [{"task": topic.task, "critical": topic.critical} for topic in topics.values()]
    last = entries[-1]
    return template("refresher/shop.html").render(
        **_about(dues),
        people=people,
        others=[line for line in shown if line.who not in here],
        other_machines=[line for line in machines if line.who not in here],
        witness_head=seen[-1].hash if seen else "",
        witness_number=len(seen),
        unread=plain_words(unread),
        heads=heads,
        head=last.hash,
        number=last.number,
        made_up=_made_up(dues),
        fades=[one for one in fades if one["topics"]],
    )


def _made_up(dues: Dues) -> bool:
    """Tell whether this is the demo's shop, whose people are all called Demo."""
    names = [one.person.name for one in dues.people]
    return bool(names) and all(name.endswith(" Demo") for name in names)
