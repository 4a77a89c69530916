"""The ``legtoleg refresher`` commands."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from dryerbench.core.errors import LegToLegError
from legtoleg.cli.file_trouble import OneLineGroup
from legtoleg.cli.refresher_entries import call, correct, entries, say_effect, talked, worked
from legtoleg.cli.refresher_options import Day, Folder, shop_at
from legtoleg.cli.terminal import say_line

if TYPE_CHECKING:
    from legtoleg.ledger.entry import Entry
    from legtoleg.refresher.record.due_list import Dues
    from legtoleg.refresher.record.shop import Shop
    from legtoleg.refresher.testing.recording import Recorded

app = typer.Typer(
    cls=OneLineGroup,
    help="Who is due, a short test of their own, and a record that holds up.",
    no_args_is_help=True,
    add_completion=False,
)
PAGES = "pages"


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
    from legtoleg.refresher.record.safety_topics import FILE as TOPICS
    from legtoleg.refresher.record.safety_topics import write_topics
    from legtoleg.refresher.record.shop import PEOPLE, SETTINGS, Settings, Shop

    lessons = str(Path(cohort).resolve()) if cohort else ""
    made = Shop.make(folder, Settings(name, zone, ledger, cohort=lessons, jurisdiction=jurisdiction), people)
    write_topics(made.folder)
    say_line(f"{len(made.people())} people. Change {PEOPLE} and {SETTINGS} in {folder} whenever you need.")
    say_line(f"The course's intervals are in {TOPICS} there. Write your own over them.")
    say_line(
        f"When someone leaves, take their line out of {PEOPLE}. They are not due any more, and their entries stay."
    )
    say_line(f"Next: legtoleg refresher due {folder}")


@app.command("topics")
def topics_(folder: Folder) -> None:
    """Write the course's topics and intervals into the shop's own file, for editing."""
    from legtoleg.refresher.record.safety_topics import write_topics

    say_line(f"Write your own intervals into {write_topics(shop_at(folder).folder)}: its second line says how.")


def _table(found: Dues) -> None:
    from legtoleg.refresher.proof.shop_pages import SIGNS, state_words
    from legtoleg.refresher.record.due_list import ORDER

    for state in ORDER:
        rows = found.rows(state)
        say_line(f"{SIGNS[state]} {state_words(state, found.shop.settings.days)}{'' if rows else ': nobody'}")
        for row in rows:
            for place, line in enumerate(row.lines):
                who, said = "" if place else row.person.id, line.topics(found.shop.topics)
                say_line(f"    {who:<14} {SIGNS[line.state]} {line.when:<17} {said} ({line.reason})")


@app.command("due")
def due_(folder: Folder, on: Day = None) -> None:
    """Say who is current, due soon, overdue, or has never passed; write it as a page and as a calendar."""
    from legtoleg.core.files import write_whole
    from legtoleg.refresher.proof.calendar_file import calendar
    from legtoleg.refresher.proof.shop_pages import due_page
    from legtoleg.refresher.record.due_list import dues

    here = shop_at(folder)
    found = dues(here, here.day(on, past=False))
    say_line(f"{here.settings.name}, {found.day} ({here.settings.zone})")
    _table(found)
    page, days = here.folder / PAGES / "due.html", here.folder / PAGES / "due.ics"
    write_whole(page, due_page(found).encode("utf-8"))
    write_whole(days, calendar(found))
    say_line(f"Page: {page}. Calendar: {days}.")


@app.command()
def today(folder: Folder, on: Day = None) -> None:
    """Write the shop's page: who may do what, and everybody's history."""
    from legtoleg.core.files import write_whole
    from legtoleg.refresher.proof.shop_pages import shop_page
    from legtoleg.refresher.record.due_list import dues

    here = shop_at(folder)
    day = here.day(on, past=False)
    entries = here.entries()
    found = dues(here, day, entries)
    page = here.folder / PAGES / "shop.html"
    seen, unread = _seen_at_machines(here)
    write_whole(page, shop_page(found, entries, seen, unread).encode("utf-8"))
    ready = sum(one.may_work for one in found.people)
    say_line(f"{ready} of {len(found.people)} are current in every safety-critical topic on {day}. Open {page}.")


def _seen_at_machines(here: Shop) -> tuple[list[Entry], str]:
    """Return the entries of the shop's witness record, or why it cannot be read: the page is written without it."""
    from legtoleg.witness.witness_record import WitnessRecord

    try:
        return WitnessRecord(here.folder).entries(), ""
    except (LegToLegError, OSError) as error:
        say_line(f"! The witness record cannot be read, so it is not on the page: {error}")
        return [], str(error)


@app.command()
def issue(
    folder: Folder,
    to: Annotated[
        list[str] | None, typer.Option("--to", help="A person's id; several times, or with commas, for several.")
    ] = None,
    due: Annotated[bool, typer.Option("--due", help="Everyone for whom something is due.")] = False,
) -> None:
    """Give each person a test of their own: a zip to open, with all they need."""
    from legtoleg.refresher.testing.issuing import issue as give

    here = shop_at(folder)
    ids = [one.strip() for many in to or [] for one in many.split(",") if one.strip()]
    ids = [here.person(who).id for who in ids]
    ids = list(dict.fromkeys([*ids, *(_everybody_due(here) if due else [])]))
    if not ids:
        say_line("No one needs a test: nothing is due." if due else "Say to whom: --to ID, or --due.")
        raise typer.Exit(0 if due else 2)

    def one(who: str) -> None:
        made = give(here, who)
        minutes = round(sum(item.minutes for item in made.items))
        how = "the open one again" if made.again else f"try {made.issue.attempt}"
        say_line(f"{who}: {how}, {len(made.items)} questions, about {minutes} minutes: {made.parcel}")

    _each(ids, one, str)
    say_line(f"When a test comes back: legtoleg refresher record {folder} FILE")


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
            say_line(f"! {name(thing)}: {error}")
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
    """Grade tests that came back, and enter each outcome, once."""
    from legtoleg.refresher.testing.recording import Recorder
    from legtoleg.sandbox.engine_choice import choose_engine

    here = shop_at(folder)
    here.entries()
    if by:
        here.person(by)
    chosen_engine = choose_engine(1)
    if chosen_engine.warning:
        say_line(f"Careful: {chosen_engine.warning}")
    failed = 0
    try:
        recorder = Recorder(here, chosen_engine.engine, by)
        for piece in recorder.pieces(files):
            try:
                done = recorder.record(piece)
            except LegToLegError as error:
                failed += 1
                say_line(f"! {piece.name} {error}" if str(error)[:1].islower() else f"! {piece.name}: {error}")
            else:
                _outcome(folder, done)
                say_effect(here, done.entry)
    finally:
        chosen_engine.engine.close()
    if failed:
        raise typer.Exit(2)


def _outcome(folder: Path, done: Recorded) -> None:
    from legtoleg.refresher.record.due_list import BETWEEN
    from legtoleg.refresher.record.history import ATTEMPTS

    marked, who = done.marked, done.person.id
    result = "passed" if marked.passed else "not passed"
    say_line(
        f"{who}: {result}, {marked.points:g} of {marked.of:g} points. Entry {done.entry.number}. Page: {done.page}"
    )
    for remark in marked.remarks:
        say_line(f"  Look at this yourself: {remark}.")
    if marked.passed:
        say_line(f"  Next: legtoleg refresher certificate {folder} --for {who}")
        return
    say_line(f"  Missed: {BETWEEN.join(item.question.title for item, _ in marked.missed)}.")
    if done.next_attempt <= ATTEMPTS:
        say_line(f"  One more try, with new numbers: legtoleg refresher issue {folder} --to {who}")
    else:
        say_line("  Over to the instructor. When they have gone through it:")
        say_line(f"  legtoleg refresher talked {folder} --with {who} --by NAME")


@app.command()
def verify(
    folder: Folder,
    kept: Annotated[
        str, typer.Option(help="A hash kept elsewhere, from a certificate or a backup: is it in here?")
    ] = "",
) -> None:
    """Check that the ledger is whole, and say what the check cannot show."""
    from legtoleg.cli.ledger_verdict import say_verdict

    here = shop_at(folder)
    entries = here.entries()
    if not (say_verdict(here.ledger, entries, kept) and here.noted):
        raise typer.Exit(1)


@app.command()
def backup(folder: Folder, file: Annotated[Path, typer.Argument(help="A new file, on another disk.")]) -> None:
    """Write the shop's ledger, witness record, people, settings and what came back into one file."""
    from legtoleg.refresher.proof.backup import back_up
    from legtoleg.refresher.proof.badge import KEY

    last = back_up(shop_at(folder), file)
    say_line(f"Backed up to {file}: {last.number} entries, last hash {last.hash}")
    say_line(f"It holds names, grades and shop.toml: keep it as you keep those. {KEY} is not in it.")


@app.command()
def restore(
    file: Annotated[Path, typer.Argument(help="A backup.")],
    folder: Annotated[Path, typer.Argument(metavar="SHOP", help="A new folder for the shop.")],
    ledger: Annotated[str, typer.Option(help="The SQLAlchemy address of another database for the ledger.")] = "",
) -> None:
    """Restore a backup into a new folder, after checking all of it."""
    from legtoleg.refresher.proof.backup import restore as bring_back
    from legtoleg.witness.witness_record import WitnessRecord

    here = bring_back(file, folder, ledger)
    last, seen = here.entries()[-1], WitnessRecord(here.folder).entries()
    say_line(f"Restored: {last.number} entries, whole. Last hash: {last.hash}")
    if seen:
        say_line(f"The witness record too: {len(seen)} entries, whole. Last hash: {seen[-1].hash}")


@app.command()
def certificate(folder: Folder, who: Annotated[str, typer.Option("--for", help="The person's id.")]) -> None:
    """Write the certificate of the last passed test (page and PDF), and the same as a signed badge."""
    from legtoleg.refresher.proof.badge import write_badge
    from legtoleg.refresher.proof.certificate import write_certificate

    here = shop_at(folder)
    made = write_certificate(here, who)
    say_line(f"Page: {made.page}")
    say_line(f"PDF: {made.pdf}" if made.pdf else made.why_no_pdf)
    badge, print_of_key = write_badge(here, who)
    say_line(f"Badge (Open Badges 3.0, signed with this shop's own key): {badge}")
    say_line(f"The key's thumbprint, for whoever wants to check the badge: {print_of_key}")


@app.command()
def export(folder: Folder, out: Annotated[Path, typer.Argument(help="A folder for the files.")]) -> None:
    """Write ledger and witness record for an auditor: CSV, xAPI statements, and the chained lines themselves."""
    from legtoleg.refresher.proof.export import export as write

    for path in write(shop_at(folder), out):
        say_line(str(path))


for entering in (call, worked, talked, correct, entries):
    app.command()(entering)
