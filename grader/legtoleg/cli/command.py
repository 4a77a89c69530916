"""The ``legtoleg`` command."""

from __future__ import annotations

import os
import platform
import sys
from pathlib import Path
from types import ModuleType
from typing import Annotated, cast

import typer

from dryerbench.core.errors import LegToLegError
from dryerbench.core.version import course_version
from legtoleg.cli.class_command import class_
from legtoleg.cli.class_files_command import class_files
from legtoleg.cli.file_trouble import OneLineGroup
from legtoleg.cli.machines import machines
from legtoleg.cli.netlist import netlist
from legtoleg.cli.readings_csv import readings
from legtoleg.cli.refresher_commands import app as refresher
from legtoleg.cli.supervised_commands import app as supervised
from legtoleg.cli.terminal import progress_bar, say_line, say_lines, say_trouble
from legtoleg.cli.witness_commands import app as witness
from legtoleg.core.one_thread import keep_to_one_thread

app = typer.Typer(
    name="legtoleg",
    cls=OneLineGroup,
    help="Leg to Leg: learn, prove and keep the skill of testing a 240 V dryer's heater.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)


def _version(wanted: bool) -> None:
    if wanted:
        say_line(f"Leg to Leg {course_version()}, Python {platform.python_version()}")
        raise typer.Exit


@app.callback()
def _whole(
    _: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Say which version this is, and exit.")
    ] = False,
) -> None:
    """Leg to Leg: learn, prove and keep the skill of testing a 240 V dryer's heater."""


@app.command("try")
def try_(
    out: Annotated[Path, typer.Option(help="A new folder for everything that is made.")],
    apprentices: Annotated[int, typer.Option(min=1, max=99, help="How many to make up.")] = 12,
    seed: Annotated[int, typer.Option(help="Another number makes up another cohort.")] = 1,
) -> None:
    """Make up a cohort that hands in, grade it the real way, and check the grades against what each one did."""
    from legtoleg.demo.trial import run_trial

    with progress_bar() as (say, tell):
        warn = lambda words: say(f"Careful: {words}")
        result = run_trial(out, apprentices, seed, tell, warn)
    say_line(f"Right answers: {result.right}. Slips: {result.slips}. Other (follow-through, blank, …): {result.other}.")
    say_line(f"Notebooks ran {result.how}.")
    if not result.agreed:
        for difference in result.differences:
            say_line(f"Not as it should be: {difference}")
        raise typer.Exit(1)
    say_line("Every right answer has full points, every slip is named, and no point is unearned.")
    say_line(f"Look at {out / 'report.html'} first; the numbers are in {out / 'marks.csv'} and {out / 'truth.csv'}.")


@app.command()
def build(
    check: Annotated[bool, typer.Option("--check", help="Change nothing; fail if a lesson is stale.")] = False,
) -> None:
    """Make the lessons from their text sources in solutions/."""
    from legtoleg.authoring.building import build as build_all
    from legtoleg.authoring.building import stale

    if check:
        old = stale()
        for path, _ in old:
            say_line(f"{path.name} is not what its source makes: run “legtoleg build”.")
        raise typer.Exit(1 if old else 0)
    changed = build_all()
    say_lines("\n".join(f"built {path.name}" for path in changed) or "Everything was up to date.")


@app.command()
def lab(
    folder: Annotated[
        Path | None, typer.Option(help="The folder of your own copy of the lessons; it is made if it is not there.")
    ] = None,
) -> None:
    """Open JupyterLab at the lessons, with the Python of this course."""
    from legtoleg.cli.lab import lessons_to_open, open_lab

    lessons = lessons_to_open(folder)
    say_line(f"Your lessons are in {lessons}.")
    sys.exit(open_lab(lessons))


@app.command()
def kit(
    apprentice: Annotated[str, typer.Argument(help="Their id: letters, digits, dots, dashes.")],
    out: Annotated[Path, typer.Option(help="The folder to put the kit's zip file in.")] = Path(),
    name: Annotated[str, typer.Option(help="Their name, for the read-me and the name of the file.")] = "",
) -> None:
    """Pack the kit of one apprentice: the lessons and their tables, with the id in them."""
    from legtoleg.cohort.kit import pack

    say_line(f"Packed {pack(apprentice, out, name)}.")


@app.command()
def workbook(
    folder: Annotated[Path, typer.Argument(help="The folder for the pages.")],
    lesson: Annotated[str | None, typer.Option(help="Only this lesson, such as 03_heater_power.")] = None,
    whose: Annotated[str, typer.Option("--id", help="Whose dryer the numbers are of; else the practice one.")] = "",
    paper: Annotated[str, typer.Option(help="a4 or letter.")] = "a4",
    browser: Annotated[str, typer.Option(help="The Chromium to make the PDFs with.")] = "",
) -> None:
    """Make the lessons into workbook pages to print and write on: HTML, and PDF where there is a Chromium."""
    from legtoleg.authoring.pdf import find_chromium, print_pdf
    from legtoleg.authoring.workbook import write_pages

    with progress_bar() as (_, tell):
        pages = write_pages(folder, lesson, whose, paper, tell)
        say_line(f"Wrote {len(pages)} page{'s' * (len(pages) != 1)} to {folder}.")
        chromium = find_chromium(browser)
        for number, page in enumerate(pages):
            tell(f"PDF of {page.stem}", number, len(pages))
            print_pdf(page, chromium)
    say_line("The PDFs are beside them. No answer is in any of them.")


@app.command()
def cohort(
    folder: Annotated[Path, typer.Argument(help="The cohort's folder; it is made if it is not there.")],
    roster: Annotated[
        Path, typer.Option(help="A CSV file with columns id and name, and if you like mail, group and left.")
    ],
    due: Annotated[
        list[str] | None, typer.Option(help="When: 2026-12-01, or 03_heater_power=2026-12-01T17:00.")
    ] = None,
    book: Annotated[str, typer.Option(help="The SQLAlchemy address of a grade book elsewhere (PostgreSQL).")] = "",
) -> None:
    """Make a cohort's folder, its grade book, and a kit for everybody on the roster. Run again to add people."""
    from legtoleg.cohort.cohort_setup import KITS, set_up

    with progress_bar() as (_, tell):
        made = set_up(folder, roster, book=book, due=due, tell=tell)
    for line in made.mended:
        say_line(f"Careful: {line}")
    people = "1 apprentice" if len(made.people) == 1 else f"{len(made.people)} apprentices"
    say_line(f"{people}, {made.new} of them new; {len(made.cohort.lessons())} lessons.")
    if made.gone:
        say_line(f"No longer on the roster (what they handed in stays): {', '.join(made.gone)}.")
    if made.left:
        say_line(f"Left, so no kit was packed for them: {', '.join(made.left)}.")
    say_line(f"Give each apprentice their own kit from {folder / KITS}.")
    say_line(f"When hand-ins come back: legtoleg collect {folder} FILES, then legtoleg mark {folder}.")


@app.command()
def collect(
    folder: Annotated[Path, typer.Argument(help="The cohort's folder.")],
    paths: Annotated[
        list[Path] | None,
        typer.Argument(help="What came back: zips, folders, notebooks; nothing, to apply settle.csv alone."),
    ] = None,
    whose: Annotated[str, typer.Option("--as", help="Whose they are, when nothing in them says so: an id.")] = "",
    lesson: Annotated[str, typer.Option(help="Which lesson they are, when nothing in them says so.")] = "",
) -> None:
    """Take in what came back. Everything is kept as it came; of several hand-ins the last one counts.

    It ends with 1 when a file needs you, and with 0 when none does.
    """
    from legtoleg.cohort.cohort_folder import RECEIVED, Cohort
    from legtoleg.cohort.one_at_a_time import at_work
    from legtoleg.collecting.collecting_report import told
    from legtoleg.collecting.collecting_run import collect_into
    from legtoleg.collecting.settling import FILE as SETTLE

    with progress_bar() as (say, tell), at_work(folder, say):
        step = lambda one, count: tell(f"taking in: {one.apprentice or Path(one.name).name}", count, None)
        done = collect_into(Cohort.at(folder), paths or [], whose, lesson, step)
    for line in [*told(done.taken), *(f"! {warning}" for warning in done.warnings)]:
        say_line(line)
    counts = len({(one.apprentice, one.lesson) for one in done.taken if one.state == "counts"})
    missing = sum(not os.path.lexists(path) for path in paths or [])
    waiting = max(0, done.open - missing)
    need = "nothing needs you" if not waiting else f"{waiting} need{'s' * (waiting == 1)} you"
    if missing:
        what = (
            "1 path was not there, so nothing came from it"
            if missing == 1
            else (f"{missing} paths were not there, so nothing came from them")
        )
        need = f"{what}; {need}" if waiting else what
    kept = "" if paths and missing == len(paths) else f" All that came is kept in {folder / RECEIVED}."
    say_line(f"{counts} to grade; {need}.{kept}")
    say_line(f"Look at {folder / done.page.name}: every file that came, and its fate.")
    if (folder / SETTLE).is_file():
        say_line(f"Write whose each file is into {folder / SETTLE}, or nobody; then: legtoleg collect {folder}")
    if counts:
        say_line(f"Next: legtoleg mark {folder}")
    if done.open or done.warnings:
        raise typer.Exit(1)


@app.command()
def mark(
    folder: Annotated[Path, typer.Argument(help="The cohort's folder.")],
    lesson: Annotated[str | None, typer.Option(help="Only this lesson: 03_heater_power, or 3.")] = None,
    workers: Annotated[int, typer.Option(min=0, max=64, help="How many notebooks at once; 0 is one a core.")] = 0,
    again: Annotated[bool, typer.Option("--again", help="Grade everything, changed or not.")] = False,
    scheduler: Annotated[str, typer.Option(help="Run the notebooks on the Dask cluster at this address.")] = "",
) -> None:
    """Grade what is new or changed, each notebook isolated as well as this computer can. Stop and start as you like."""
    from legtoleg.cohort.marking_run import mark_cohort
    from legtoleg.cohort.one_at_a_time import at_work

    with progress_bar() as (say, tell), at_work(folder, say):
        warn = lambda words: say(f"Careful: {words}")
        summary = mark_cohort(
            folder, lesson=lesson, workers=workers, again=again, scheduler=scheduler, tell=tell, warn=warn
        )
    say_line(f"{summary.marked} graded, {summary.unchanged} had not changed. Notebooks ran {summary.how}.")
    for line in summary.attention:
        say_line(f"! {line}")
    if summary.attention:
        count = len(summary.attention)
        say_line(f"{count} need{'s' * (count == 1)} you (with a ! above); the rest is done.")
    say_line(f"Next: legtoleg report {folder}. Feedback pages are in {folder / 'feedback'}.")


@app.command("deal-again")
def deal_again(
    folder: Annotated[Path, typer.Argument(help="The cohort's folder.")],
    who: Annotated[str, typer.Option(help="Whose card: an id.")],
    lesson: Annotated[str, typer.Option(help="Of which lesson: 03_heater_power, or 3.")],
) -> None:
    """Deal a new card: the same lesson on a dryer with other numbers. After a hold, “mark” does it for you."""
    from legtoleg.cohort.cohort_folder import Cohort
    from legtoleg.cohort.dealing import deal_again as deal
    from legtoleg.cohort.one_at_a_time import at_work

    cohort = Cohort.at(folder)
    who = cohort.id_called(who)
    with at_work(folder, say_line):
        name, number = deal(cohort, who, lesson)
    say_line(f"{who} gets card {number} of {name}. What was graded before is kept in {folder / 'tries' / who}.")
    say_line(f"Give them {folder / 'feedback' / who / 'tries.json'}: it goes into the folder of their kit.")


@app.command()
def report(
    folder: Annotated[Path, typer.Argument(help="The cohort's folder.")],
) -> None:
    """Write the report: one page to decide from, a workbook, and CSV files.

    It ends with 1 when something could not be read or written, and with 0 when all could.
    """
    from legtoleg.cohort.cohort_folder import Cohort
    from legtoleg.report.report_run import write_report

    written = write_report(Cohort.at(folder))
    for line in written.troubles:
        say_line(f"! {line}")
    say_line(f"Open {written.page}. The numbers are in {written.workbook.name} too, and as CSV beside it.")
    if written.troubles:
        count = len(written.troubles)
        say_line(f"{count} thing{'s' * (count != 1)} could not be used (with a ! above); all else is in the report.")
        raise typer.Exit(1)


@app.command()
def doctor(
    folder: Annotated[Path, typer.Argument(help="The folder of a cohort, made or to be made.")] = Path(),
) -> None:
    """Check that this computer can run the course, and say how to fix what it finds."""
    from legtoleg.cli.doctor import examine

    ill = False
    for finding in examine(folder):
        say_line(f"{'✓' if finding.well else '!'} {finding.what}: {finding.found}")
        if not finding.well:
            say_line(f"  {finding.cure}")
            ill = ill or finding.must
    raise typer.Exit(1 if ill else 0)


app.command("class")(class_)
app.command("class-files")(class_files)
app.command("dryers")(machines)
app.command("machines", hidden=True)(machines)
app.command()(netlist)
app.command()(readings)
app.add_typer(refresher, name="refresher")
app.add_typer(supervised, name="supervised")
app.add_typer(witness, name="witness")


def main() -> None:
    """Run the command; an error of ours is one line, never a traceback."""
    # jsonschema, which nbformat imports, makes a grammar of web addresses if it finds this: 0.8 s, for no notebook.
    sys.modules.setdefault("rfc3987_syntax", cast("ModuleType", None))
    keep_to_one_thread()
    try:
        app()
    except LegToLegError as error:
        say_trouble(error)
        sys.exit(2)
    except KeyboardInterrupt:
        sys.exit(130)
