"""The ``legtoleg refresher`` commands."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer
from rich.console import Console

from dryerbench.core.errors import LegToLegError
from legtoleg.cli.file_trouble import OneLineGroup
from legtoleg.refresher.record.safety_topics import TopicError, chosen, triggers

if TYPE_CHECKING:
    from legtoleg.refresher.record.due_list import Dues
    from legtoleg.refresher.record.ledger_entry import Entry
    from legtoleg.refresher.record.shop import Shop
    from legtoleg.refresher.testing.recording import Recorded

app = typer.Typer(
    cls=OneLineGroup,
    help="Who is due, a short test of their own, and a record that stands up.",
    no_args_is_help=True,
    add_completion=False,
)
_say = Console(highlight=False, soft_wrap=True)
PAGES = "pages"

Folder = Annotated[Path, typer.Argument(metavar="SHOP", help="The shop's folder.")]
Topics = Annotated[
    list[str] | None, typer.Option("--topic", help="A topic; several times for several. All critical ones.")
]
Day = Annotated[str | None, typer.Option("--on", help="The day at the shop, like 2027-03-01; today if left out.")]
By = Annotated[str, typer.Option("--by", help="Who enters or saw it.")]
Who = Annotated[str, typer.Option("--who", help="The person's id.")]


def _shop(folder: Path) -> Shop:
    from legtoleg.refresher.record.shop import NOTE, Shop

    here = Shop.at(folder)
    if not here.noted:
        _line(
            f"! {NOTE} is missing, although the ledger has entries: somebody has deleted it, and entries cut off at "
            f"the end would not be seen. Look for the hash of your last certificate or backup: legtoleg refresher verify "
            f"{folder} --kept HASH. The note is written again with the next entry."
        )
    return here


def _line(words: str) -> None:
    _say.print(words, markup=False)


@app.command()
def shop(
    folder: Annotated[Path, typer.Argument(metavar="SHOP", help="A new folder for the shop.")],
    people: Annotated[Path, typer.Option(help="A CSV file with columns id and name.")],
    zone: Annotated[str, typer.Option(help="The shop's time zone, like America/Denver.")],
    name: Annotated[str, typer.Option(help="What the shop is called on pages and certificates.")],
    ledger: Annotated[str, typer.Option(help="The SQLAlchemy address of a ledger in PostgreSQL.")] = "",
    cohort: Annotated[str, typer.Option(help="The folder of the lessons' cohort, for what was missed there.")] = "",
    jurisdiction: Annotated[str, typer.Option(help="Whose rules hold here, in your words.")] = "",
) -> None:
    """Set up a shop: its settings, its people, its ledger."""
    from legtoleg.refresher.record.shop import PEOPLE, SETTINGS, Settings, Shop

    lessons = str(Path(cohort).resolve()) if cohort else ""
    made = Shop.make(folder, Settings(name, zone, ledger, cohort=lessons, jurisdiction=jurisdiction), people)
    _line(f"{len(made.people())} people. Change {PEOPLE} and {SETTINGS} in {folder} whenever you need.")
    _line(f"Next: legtoleg refresher due {folder}")


def _table(found: Dues) -> None:
    from legtoleg.refresher.proof.shop_pages import SIGNS, state_words
    from legtoleg.refresher.record.due_list import ORDER

    for state in ORDER:
        rows = found.rows(state)
        _line(f"{SIGNS[state]} {state_words(state, found.shop.settings.days)}{'' if rows else ': nobody'}")
        for row in rows:
            for place, line in enumerate(row.lines):
                who, said = "" if place else row.person.id, line.topics(found.shop.topics)
                _line(f"    {who:<14} {SIGNS[line.state]} {line.when:<17} {said} ({line.reason})")


@app.command("due")
def due_(folder: Folder, on: Day = None) -> None:
    """Say who is current, due soon, overdue, or has never passed; write it as a page and as a calendar."""
    from legtoleg.core.files import write_whole
    from legtoleg.refresher.proof.calendar_file import calendar
    from legtoleg.refresher.proof.shop_pages import due_page
    from legtoleg.refresher.record.due_list import dues

    here = _shop(folder)
    found = dues(here, here.day(on, past=False))
    _line(f"{here.settings.name}, {found.day} ({here.settings.zone})")
    _table(found)
    page, days = here.folder / PAGES / "due.html", here.folder / PAGES / "due.ics"
    write_whole(page, due_page(found).encode("utf-8"))
    write_whole(days, calendar(found))
    _line(f"Page: {page}. Calendar: {days}.")


@app.command()
def today(folder: Folder, on: Day = None) -> None:
    """Write the shop's page: who may do what, and everybody's history."""
    from legtoleg.core.files import write_whole
    from legtoleg.refresher.proof.shop_pages import shop_page
    from legtoleg.refresher.record.due_list import dues

    here = _shop(folder)
    day = here.day(on, past=False)
    entries = here.entries()
    found = dues(here, day, entries)
    page = here.folder / PAGES / "shop.html"
    write_whole(page, shop_page(found, entries).encode("utf-8"))
    ready = sum(one.may_work for one in found.people)
    _line(f"{ready} of {len(found.people)} are current in every safety-critical topic on {day}. Open {page}.")


@app.command()
def issue(
    folder: Folder,
    to: Annotated[
        list[str] | None, typer.Option("--to", help="A person's id; several times, or with commas, for several.")
    ] = None,
    due: Annotated[bool, typer.Option("--due", help="Everybody for whom something is due.")] = False,
) -> None:
    """Give each person a test of their own: a zip to open, with all they need."""
    from legtoleg.refresher.testing.issuing import issue as give

    here = _shop(folder)
    ids = [one.strip() for many in to or [] for one in many.split(",") if one.strip()]
    ids = list(dict.fromkeys([*ids, *(_everybody_due(here) if due else [])]))
    for who in ids:
        here.person(who)
    if not ids:
        _line("Nobody to give a test to: nothing is due." if due else "Say to whom: --to ID, or --due.")
        raise typer.Exit(0 if due else 2)

    def one(who: str) -> None:
        made = give(here, who)
        minutes = round(sum(item.minutes for item in made.items))
        how = "the open one again" if made.again else f"try {made.issue.attempt}"
        _line(f"{who}: {how}, {len(made.items)} questions, about {minutes} minutes: {made.parcel}")

    _each(ids, one, str)
    _line(f"When a test comes back: legtoleg refresher record {folder} FILE")


def _everybody_due(here: Shop) -> list[str]:
    from legtoleg.refresher.record.due_list import dues
    from legtoleg.refresher.record.standing import CURRENT

    people = dues(here, here.today()).people
    return [one.person.id for one in people if any(found.state != CURRENT for found in one.found)]


def _each(things: list[str], do: Callable[[str], None], name: Callable[[str], str]) -> None:
    """Do each; one that cannot be done does not stop the others, and makes the command fail at its end."""
    failed = 0
    for thing in things:
        try:
            do(thing)
        except LegToLegError as error:
            if len(things) == 1:
                raise
            failed += 1
            _line(f"! {name(thing)}: {error}")
    if failed:
        raise typer.Exit(2)


@app.command()
def record(
    folder: Folder,
    files: Annotated[
        list[Path], typer.Argument(metavar="FILE...", help="Tests that came back: notebooks, zips, folders.")
    ],
    by: Annotated[str, typer.Option("--by", help="The id of who handed it in, if you want that checked.")] = "",
) -> None:
    """Mark tests that came back, and enter each outcome, once."""
    from legtoleg.refresher.testing.recording import Recorder
    from legtoleg.sandbox.engine_choice import choose_engine

    here = _shop(folder)
    here.entries()
    if by:
        here.person(by)
    chosen_engine = choose_engine(1)
    if chosen_engine.warning:
        _line(f"Careful: {chosen_engine.warning}")
    failed = 0
    try:
        recorder = Recorder(here, chosen_engine.engine, by)
        for piece in recorder.pieces(files):
            try:
                done = recorder.record(piece)
            except LegToLegError as error:
                failed += 1
                _line(f"! {piece.name} {error}" if str(error)[:1].islower() else f"! {piece.name}: {error}")
            else:
                _outcome(folder, done)
                _effect(here, done.entry)
    finally:
        chosen_engine.engine.close()
    if failed:
        raise typer.Exit(2)


def _outcome(folder: Path, done: Recorded) -> None:
    from legtoleg.refresher.record.due_list import BETWEEN
    from legtoleg.refresher.record.history import ATTEMPTS

    marked, who = done.marked, done.person.id
    result = "passed" if marked.passed else "not passed"
    _line(f"{who}: {result}, {marked.points:g} of {marked.of:g} points. Entry {done.entry.number}. Page: {done.page}")
    for remark in marked.remarks:
        _line(f"  Look at this yourself: {remark}.")
    if marked.passed:
        _line(f"  Next: legtoleg refresher certificate {folder} --for {who}")
        return
    _line(f"  Missed: {BETWEEN.join(item.question.title for item, _ in marked.missed)}.")
    if done.next_attempt <= ATTEMPTS:
        _line(f"  One more try, with new numbers: legtoleg refresher issue {folder} --to {who}")
    else:
        _line("  Handed over to the instructor. When that is worked through:")
        _line(f"  legtoleg refresher talked {folder} --with {who} --by NAME")


@app.command()
def verify(
    folder: Folder,
    kept: Annotated[
        str, typer.Option(help="A hash kept elsewhere, from a certificate or a backup: is it in here?")
    ] = "",
) -> None:
    """Prove that the ledger is whole, and say what that does not prove."""
    from legtoleg.refresher.record.hash_chain import LIMITS, DamagedLedgerError, holds

    here = _shop(folder)
    entries = here.entries()
    examined = here.ledger.examine()
    last = entries[-1]
    _line(f"Whole: {len(entries)} entries, each chained to the one before. Last hash: {last.hash}")
    if examined:
        _line("The database has examined its own file and found nothing wrong.")
    guarded = here.ledger.guarded()
    if not guarded:
        _line("! The database no longer refuses changes by itself: somebody has switched that off. Ask who, and why.")
    if kept:
        found = holds(entries, kept)
        if found is None:
            raise DamagedLedgerError(
                f"The hash {kept[:80]} is not in this ledger (give 12 digits or more): the ledger was replaced, or the "
                "hash is another ledger's, or was mistyped."
            )
        _line(f"The hash that you kept is that of entry {found.number}, entered {found.entered:%Y-%m-%d %H:%M} UTC.")
    _line(LIMITS)
    if not (guarded and here.noted):
        raise typer.Exit(1)


@app.command()
def backup(folder: Folder, file: Annotated[Path, typer.Argument(help="A new file, on another disk.")]) -> None:
    """Write the shop's ledger, people, settings and what came back into one file."""
    from legtoleg.refresher.proof.backup import back_up
    from legtoleg.refresher.proof.badge import KEY

    last = back_up(_shop(folder), file)
    _line(f"Backed up to {file}: {last.number} entries, last hash {last.hash}")
    _line(f"It holds names, marks and shop.toml: keep it as you keep those. {KEY} is not in it.")


@app.command()
def restore(
    file: Annotated[Path, typer.Argument(help="A backup.")],
    folder: Annotated[Path, typer.Argument(metavar="SHOP", help="A new folder for the shop.")],
    ledger: Annotated[str, typer.Option(help="The SQLAlchemy address of another database for the ledger.")] = "",
) -> None:
    """Restore a backup into a new folder, after checking all of it."""
    from legtoleg.refresher.proof.backup import restore as bring_back

    here = bring_back(file, folder, ledger)
    last = here.entries()[-1]
    _line(f"Restored: {last.number} entries, whole. Last hash: {last.hash}")


@app.command()
def certificate(folder: Folder, who: Annotated[str, typer.Option("--for", help="The person's id.")]) -> None:
    """Write the certificate of the last passed test (page and PDF), and the same as a signed badge."""
    from legtoleg.refresher.proof.badge import write_badge
    from legtoleg.refresher.proof.certificate import write_certificate

    here = _shop(folder)
    made = write_certificate(here, who)
    _line(f"Page: {made.page}")
    _line(f"PDF: {made.pdf}" if made.pdf else made.why_no_pdf)
    badge, print_of_key = write_badge(here, who)
    _line(f"Badge (Open Badges 3.0, signed with this shop's own key): {badge}")
    _line(f"The key's thumbprint, for whoever wants to check the badge: {print_of_key}")


@app.command()
def export(folder: Folder, out: Annotated[Path, typer.Argument(help="A folder for the files.")]) -> None:
    """Write the ledger for an auditor: CSV, xAPI statements, and the chained lines themselves."""
    from legtoleg.refresher.proof.export import export as write

    for path in write(_shop(folder), out):
        _line(str(path))


@app.command()
def call(
    folder: Folder,
    who: Who,
    trigger: Annotated[str, typer.Option(help="failed-gate, near-miss, inspection, change, absence or asked.")],
    by: By,
    topic: Topics = None,
    on: Day = None,
    note: Annotated[str, typer.Option(help="A word on what happened; no names of customers.")] = "",
) -> None:
    """Enter what calls somebody back at once: a failed gate, a near miss, a finding, a change of work."""
    known = triggers()
    if trigger not in known:
        raise TopicError(f"There is no trigger {trigger!r:.60}; there are: {', '.join(known)}.")
    here = _shop(folder)
    data = {"trigger": trigger, "title": known[trigger].title, "note": note[:500]}
    _enter(here, "called", who, topic, on, by, **data)


@app.command()
def worked(folder: Folder, who: Who, by: By, topic: Topics = None, on: Day = None) -> None:
    """Enter that somebody was seen doing the work, so that it does not count as long not done."""
    _enter(_shop(folder), "worked", who, topic, on, by)


def _enter(here: Shop, kind: str, who: str, topic: list[str] | None, on: str | None, by: str, **data: str) -> None:
    here.person(who)
    topics = chosen(here.topics, topic or [])
    entry = here.enter(here.draft(kind, who, here.day(on, past=True), topics=topics, by=by[:200], **data))
    _line(f"Entry {entry.number}, for {who} on {entry.on}: {', '.join(topics)}.")
    _effect(here, entry)


def _effect(here: Shop, entry: Entry) -> None:
    from legtoleg.refresher.record.effect import effect

    _line(effect(here, entry, here.entries(), here.today()))


@app.command()
def talked(
    folder: Folder,
    who: Annotated[str, typer.Option("--with", help="The person's id.")],
    by: By,
    on: Day = None,
    note: Annotated[str, typer.Option(help="What was gone through.")] = "",
) -> None:
    """Enter that the instructor went through what was missed; then there is a new test, and a retry."""
    here = _shop(folder)
    here.person(who)
    entry = here.enter(here.draft("talked", who, here.day(on, past=True), by=by[:200], note=note[:500]))
    _line(f"Entry {entry.number}. Next: legtoleg refresher issue {folder} --to {who}")
    _effect(here, entry)


@app.command()
def correct(
    folder: Folder,
    entry: Annotated[int, typer.Option(help="The number of the wrong entry.")],
    reason: Annotated[str, typer.Option(help="What is wrong with it.")],
    by: By,
) -> None:
    """Enter that an entry does not count. It stays where it is; what is right is entered anew."""
    from legtoleg.refresher.record.correction import correct as strike

    here = _shop(folder)
    made = strike(here, entry, reason, by)
    _line(f"Entry {made.number}: entry {entry} does not count any more. Both stay in the ledger.")
    _effect(here, made)
