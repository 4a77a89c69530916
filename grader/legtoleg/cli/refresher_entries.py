"""The ``legtoleg refresher`` commands that enter something by hand, and the one that lists what was entered."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from legtoleg.cli.refresher_options import By, Day, Folder, Topics, Who, shop_at
from legtoleg.cli.terminal import say_line
from legtoleg.core.outside_words import plain_words
from legtoleg.refresher.record.safety_topics import TopicError, chosen, triggers

if TYPE_CHECKING:
    from legtoleg.ledger.entry import Entry
    from legtoleg.refresher.record.shop import Shop

SHOP = "shop"
"""Under whom entries of the shop itself are listed."""


def call(
    folder: Folder,
    who: Who,
    trigger: Annotated[str, typer.Option(help="failed-gate, near-miss, inspection, change, absence or asked.")],
    by: By,
    topic: Topics = None,
    on: Day = None,
    note: Annotated[str, typer.Option(help="A word on what happened; no names of customers.")] = "",
) -> None:
    """Enter why somebody has to come back right away: a failed gate, a near miss, a finding, a change of work."""
    known = triggers()
    if trigger not in known:
        raise TopicError(f"There is no trigger {trigger!r:.60}; there are: {', '.join(known)}.")
    here = shop_at(folder)
    data = {"trigger": trigger, "title": known[trigger].title, "note": plain_words(note, 500)}
    _enter(here, "called", who, topic, on, by, **data)


def worked(folder: Folder, who: Who, by: By, topic: Topics = None, on: Day = None) -> None:
    """Enter that somebody was seen doing the work, so it counts as recent."""
    _enter(shop_at(folder), "worked", who, topic, on, by)


def _enter(here: Shop, kind: str, who: str, topic: list[str] | None, on: str | None, by: str, **data: str) -> None:
    who = here.person(who).id
    topics = chosen(here.topics, topic or [])
    entry = here.enter(here.draft_by(by, kind, who, here.day(on, past=True), topics=topics, **data))
    say_line(f"Entry {entry.number}, for {who} on {entry.on}: {', '.join(topics)}.")
    say_effect(here, entry)


def say_effect(here: Shop, entry: Entry) -> None:
    """Say what ``entry``, just entered, changes."""
    from legtoleg.refresher.record.effect import effect

    say_line(effect(here, entry, here.entries(), here.today()))


def talked(
    folder: Folder,
    who: Annotated[str, typer.Option("--with", help="The person's id.")],
    by: By,
    on: Day = None,
    note: Annotated[str, typer.Option(help="What was gone through.")] = "",
) -> None:
    """Enter that the instructor went through what was missed; then there is a new test, and a retry."""
    here = shop_at(folder)
    who = here.person(who).id
    entry = here.enter(here.draft_by(by, "talked", who, here.day(on, past=True), note=plain_words(note, 500)))
    say_line(f"Entry {entry.number}. Next: legtoleg refresher issue {folder} --to {who}")
    say_effect(here, entry)


def correct(
    folder: Folder,
    entry: Annotated[int, typer.Option(help="The number of the wrong entry.")],
    reason: Annotated[str, typer.Option(help="What is wrong with it.")],
    by: By,
) -> None:
    """Enter that an entry does not count. It stays in the list. Enter the right one as a new entry."""
    from legtoleg.refresher.record.correction import correct as strike

    here = shop_at(folder)
    made = strike(here, entry, reason, by)
    say_line(f"Entry {made.number}: entry {entry} does not count any more. Both stay in the ledger.")
    say_effect(here, made)


def entries(
    folder: Folder,
    who: Annotated[
        str, typer.Option("--who", help="Only this person's, also of one who left; “shop” for the shop's own.")
    ] = "",
) -> None:
    """List what was entered, with the numbers that “correct” asks for."""
    from legtoleg.refresher.proof.shop_pages import listed
    from legtoleg.refresher.record.shop import ShopError

    here = shop_at(folder)
    everything = here.entries()
    shown = [one for one in listed(everything, here.topics) if not who or (one.who or SHOP) == who]
    if not shown and who not in here.people():
        raise ShopError(f"Nobody with the id {who!r:.80} is in the ledger or among the people.")
    for one in shown:
        struck = f" (does not count: entry {one.struck})" if one.struck else ""
        say_line(f"{one.number:>6}  {one.on}  {one.who or SHOP:<14} {one.kind:<14} {one.words}{struck}")
    if not shown:
        say_line(f"Nothing is entered for {who} yet.")
    say_line(f"A wrong one: legtoleg refresher correct {folder} --entry NUMBER --reason WHY --by NAME")
