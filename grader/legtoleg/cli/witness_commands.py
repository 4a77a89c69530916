"""The ``legtoleg witness`` commands: a check sheet for one real machine, and the record of who watched whom."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from legtoleg.cli.file_trouble import OneLineGroup
from legtoleg.cli.refresher_options import By, Who
from legtoleg.cli.terminal import say_line

if TYPE_CHECKING:
    from legtoleg.witness.witness_record import WitnessRecord

app = typer.Typer(
    cls=OneLineGroup,
    help="A check sheet for one real dryer, and the record of who watched whom.",
    no_args_is_help=True,
    add_completion=False,
)
Folder = Annotated[Path, typer.Argument(metavar="FOLDER", help="A cohort's folder, or a shop's.")]


def _record(folder: Path) -> WitnessRecord:
    from legtoleg.witness.witness_record import FILE, NOTE, WitnessRecord

    record = WitnessRecord(folder.resolve())
    record.people()
    if record.begun and not record.noted:
        say_line(
            f"! {NOTE} is missing, although {FILE} is there: someone has deleted it, and entries cut off at the end "
            "would not be seen. It is written again with the next entry."
        )
    return record


@app.command()
def sheet(
    folder: Folder,
    who: Annotated[
        list[str] | None, typer.Option("--for", help="A person's id; several times for several. None: a blank sheet.")
    ] = None,
    due: Annotated[bool, typer.Option("--due", help="Everyone whom no one has seen pass.")] = False,
    paper: Annotated[str, typer.Option(help="letter or a4.")] = "letter",
    browser: Annotated[str, typer.Option(help="The Chromium to make the PDF with.")] = "",
) -> None:
    """Make the check sheet to print: nine steps to tick and to put initials to, with the cautions."""
    from legtoleg.authoring.pdf import ChromiumMissingError, PrintingError, find_chromium, print_pdf
    from legtoleg.witness.check_sheet import write_sheet

    record = _record(folder)
    ids = list(dict.fromkeys([*(who or []), *(_due(record) if due else [])]))
    if due and not ids:
        say_line("No one is left to be watched.")
        return
    page = write_sheet(record, ids, paper)
    say_line(f"Page: {page}")
    try:
        say_line(f"PDF: {print_pdf(page, find_chromium(browser))}")
    except (ChromiumMissingError, PrintingError) as error:
        say_line(f"{error}")
    say_line(f"When it is done: legtoleg witness seen {folder} --who ID --by NAME --dryer KIND --passed 1-9")


def _due(record: WitnessRecord) -> list[str]:
    from legtoleg.witness.witness_record import witnessed

    found = witnessed(record.folder)
    return [who for who in record.here() if who not in found or not found[who].passed]


@app.command()
def seen(
    folder: Folder,
    who: Who,
    by: Annotated[str, typer.Option("--by", help="Who watched, by name.")],
    machine: Annotated[
        str,
        typer.Option(
            "--dryer", "--machine", help="The kind of dryer in your own words; no brand, no serial number, no customer."
        ),
    ],
    passed: Annotated[str, typer.Option(help="The numbers of the steps passed: 1-9, or 1-3,5-9.")] = "",
    missed: Annotated[str, typer.Option(help="The numbers of the steps not passed or not seen.")] = "",
    on: Annotated[str | None, typer.Option("--on", help="The day, like 2027-03-01; today if left out.")] = None,
    live_by: Annotated[
        str, typer.Option("--live-by", help="The qualified person who took live readings, if any.")
    ] = "",
    note: Annotated[str, typer.Option(help="A word on it; no names of customers.")] = "",
) -> None:
    """Enter who watched whom do the whole job on a real dryer, and which of the nine steps were passed."""
    from legtoleg.witness.job_steps import read_steps
    from legtoleg.witness.witness_record import names_of, witnessed

    record = _record(folder)
    entry = record.see(who, by, machine, read_steps(passed, missed), record.day(on), live_by, note)
    say_line(f"Entry {entry.number}, for {entry.who} on {entry.on}, seen by {entry.data['by']}. Hash: {entry.hash}")
    now, who = witnessed(record.folder)[entry.who], entry.who
    if now.entry != entry.number:
        say_line(f"No effect: a later dryer counts, entry {now.entry}: {now.words}.")
    elif now.passed:
        say_line(f"{who} has passed all nine steps: the witness is there.")
    else:
        safety = " A safety step is among them." if now.held else ""
        say_line(f"No pass: {names_of(now.missed)}.{safety} The next dryer is watched from step 1 on.")


@app.command("due")
def due_(folder: Folder) -> None:
    """Say who was seen to do the job on a real dryer, and who still has to be watched."""
    from legtoleg.witness.witness_record import witnessed

    record = _record(folder)
    found, people = witnessed(record.folder), record.here()
    for who in people:
        one = found.get(who)
        sign = "–" if one is None else "✓" if one.passed else "!"
        say_line(f"{sign} {who:<14} {'nobody has watched them on a real dryer' if one is None else one.words}")
    left = _due(record)
    say_line(f"{len(people) - len(left)} of {len(people)} were seen to pass.")
    if left:
        say_line(f"Sheets for the rest: legtoleg witness sheet {folder} --due")


@app.command()
def entries(
    folder: Folder, who: Annotated[str, typer.Option("--who", help="Only this person's, also of one who left.")] = ""
) -> None:
    """List what was entered, with the numbers that “correct” asks for."""
    from legtoleg.ledger.corrections import corrections
    from legtoleg.witness.witness_record import WitnessError, words_of

    record = _record(folder)
    everything = record.entries()
    struck, shown = corrections(everything), [one for one in everything if who in ("", one.who)]
    if who and not shown and who not in record.people():
        raise WitnessError(f"Nobody with the id {who!r:.80} is in the record or among the people.")
    for one in shown:
        gone = f" (does not count: entry {struck[one.number].number})" if one.number in struck else ""
        say_line(f"{one.number:>6}  {one.on}  {one.who or '–':<14} {words_of(one)}{gone}")
    if not shown:
        say_line(f"Nothing is entered{f' for {who}' if who else ''} yet.")
        return
    say_line(f"A wrong one: legtoleg witness correct {folder} --entry NUMBER --reason WHY --by NAME")


@app.command()
def correct(
    folder: Folder,
    entry: Annotated[int, typer.Option(help="The number of the wrong entry.")],
    reason: Annotated[str, typer.Option(help="What is wrong with it.")],
    by: By,
) -> None:
    """Enter that an entry does not count. It stays in the list. Enter the right one as a new entry."""
    from legtoleg.witness.witness_record import witnessed

    record = _record(folder)
    made = record.correct(entry, reason, by)
    say_line(f"Entry {made.number}: entry {entry} does not count any more. Both stay in the record.")
    now = witnessed(record.folder).get(made.who)
    say_line(f"{made.who}: {now.words if now else 'nobody has watched them on a real dryer'}.")


@app.command()
def verify(
    folder: Folder,
    kept: Annotated[str, typer.Option(help="A hash kept elsewhere, as “seen” said it: is it in here?")] = "",
) -> None:
    """Check that the record is whole, and say what the check cannot show."""
    from legtoleg.cli.ledger_verdict import say_verdict

    record = _record(folder)
    found = record.entries()
    if not found:
        say_line("Nothing is entered yet, so there is nothing to verify.")
        return
    if not (say_verdict(record.ledger, found, kept) and record.noted):
        raise typer.Exit(1)
