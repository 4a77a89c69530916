"""The ``legtoleg`` command."""

from __future__ import annotations

import platform
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Annotated

import typer
from rich.console import Console
from rich.markup import escape
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn

from dryerbench.core.errors import LegToLegError
from dryerbench.core.version import course_version
from legtoleg.cli.class_command import class_
from legtoleg.cli.class_files_command import class_files
from legtoleg.cli.machines import machines
from legtoleg.cli.netlist import netlist
from legtoleg.cli.readings_csv import readings
from legtoleg.cli.refresher_commands import app as refresher
from legtoleg.cli.supervised_commands import app as supervised
from legtoleg.cli.witness_commands import app as witness
from legtoleg.core.outside_words import plain_words

app = typer.Typer(
    name="legtoleg",
    help="Leg to Leg: learn, prove and keep the skill of testing a 240 V dryer's heater.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)
_say = Console(highlight=False, soft_wrap=True)


def _version(wanted: bool) -> None:
    if wanted:
        _say.print(f"Leg to Leg {course_version()}, Python {platform.python_version()}")
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
    """Make up a cohort, let it hand in, mark it the real way, and hold the marks against the truth."""
    from legtoleg.demo.trial import run_trial

    with _bar() as (progress, tell):
        warn = lambda words: progress.console.print(f"Careful: {words}", markup=False)
        result = run_trial(out, apprentices, seed, tell, warn)
    _say.print(
        f"Right answers: {result.right}. Slips: {result.slips}. Other (follow-through, blank, …): {result.other}."
    )
    _say.print(f"Notebooks ran {result.how}.")
    if not result.agreed:
        for difference in result.differences:
            _say.print(f"Not as it should be: {difference}")
        raise typer.Exit(1)
    _say.print("Every right answer has full marks, every slip is named, and no point is unearned.")
    _say.print(f"Look at {out / 'report.html'} first; the numbers are in {out / 'marks.csv'} and {out / 'truth.csv'}.")


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
            _say.print(f"{path.name} is not what its source makes: run “legtoleg build”.")
        raise typer.Exit(1 if old else 0)
    changed = build_all()
    _say.print("\n".join(f"built {path.name}" for path in changed) or "Everything was up to date.")


@app.command()
def lab(
    folder: Annotated[
        Path | None, typer.Option(help="The folder of your own copy of the lessons; it is made if it is not there.")
    ] = None,
) -> None:
    """Open JupyterLab at the lessons, with the Python of this course."""
    from legtoleg.cli.lab import lessons_to_open, open_lab

    lessons = lessons_to_open(folder)
    _say.print(f"Your lessons are in {lessons}.", markup=False)
    sys.exit(open_lab(lessons))


@app.command()
def kit(
    apprentice: Annotated[str, typer.Argument(help="Their id: letters, digits, dots, dashes.")],
    out: Annotated[Path, typer.Option(help="The folder to put the kit's zip file in.")] = Path(),
    name: Annotated[str, typer.Option(help="Their name, for the read-me and the name of the file.")] = "",
) -> None:
    """Pack the kit of one apprentice: the lessons and their tables, marked with the id."""
    from legtoleg.cohort.kit import pack

    _say.print(f"Packed {pack(apprentice, out, name)}.")


@app.command()
def workbook(
    folder: Annotated[Path, typer.Argument(help="The folder for the pages.")],
    lesson: Annotated[str | None, typer.Option(help="Only this lesson, such as 03_heater_power.")] = None,
    whose: Annotated[str, typer.Option("--id", help="Whose machine the numbers are of; else the practice one.")] = "",
    paper: Annotated[str, typer.Option(help="a4 or letter.")] = "a4",
    browser: Annotated[str, typer.Option(help="The Chromium to make the PDFs with.")] = "",
) -> None:
    """Make the lessons into workbook pages to print and write on: HTML, and PDF where there is a Chromium."""
    from legtoleg.authoring.pdf import find_chromium, print_pdf
    from legtoleg.authoring.workbook import write_pages

    with _bar() as (_, tell):
        pages = write_pages(folder, lesson, whose, paper, tell)
        _say.print(f"Wrote {len(pages)} page{'s' * (len(pages) != 1)} to {folder}.", markup=False)
        chromium = find_chromium(browser)
        for number, page in enumerate(pages):
            tell(f"PDF of {page.stem}", number, len(pages))
            print_pdf(page, chromium)
    _say.print("The PDFs are beside them. No answer is in any of them.")


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

    with _bar() as (_, tell):
        made = set_up(folder, roster, book=book, due=due, tell=tell)
    people = "1 apprentice" if len(made.people) == 1 else f"{len(made.people)} apprentices"
    _say.print(f"{people}, {made.new} of them new; {len(made.cohort.lessons())} lessons.")
    if made.gone:
        _say.print(f"No longer on the roster (what they handed in stays): {', '.join(made.gone)}.", markup=False)
    _say.print(f"Give each apprentice their own kit from {folder / KITS}.", markup=False)
    _say.print(f"When hand-ins come back: legtoleg collect {folder} FILES, then legtoleg mark {folder}.", markup=False)


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
    from legtoleg.cohort.cohort_folder import Cohort
    from legtoleg.cohort.one_at_a_time import at_work
    from legtoleg.collecting.collecting import RECEIVED
    from legtoleg.collecting.collecting_report import told
    from legtoleg.collecting.collecting_run import collect_into
    from legtoleg.collecting.settling import FILE as SETTLE

    with _bar() as (progress, tell), at_work(folder, progress.console.print):
        step = lambda one, count: tell(f"taking in: {one.apprentice or Path(one.name).name}", count, None)
        done = collect_into(Cohort.at(folder), paths or [], whose, lesson, step)
    for line in [*told(done.taken), *(f"! {warning}" for warning in done.warnings)]:
        _say.print(line, markup=False)
    counts = sum(one.state == "counts" for one in done.taken)
    need = "nothing needs you" if not done.open else f"{done.open} need{'s' * (done.open == 1)} you"
    _say.print(f"{counts} to mark; {need}. All that came is kept in {folder / RECEIVED}.", markup=False)
    _say.print(f"Look at {folder / done.page.name}: every file that came, and its fate.", markup=False)
    if done.open:
        _say.print(
            f"Write whose each file is into {folder / SETTLE}, or nobody; then: legtoleg collect {folder}", markup=False
        )
    if counts:
        _say.print(f"Next: legtoleg mark {folder}", markup=False)
    if done.open or done.warnings:
        raise typer.Exit(1)


@app.command()
def mark(
    folder: Annotated[Path, typer.Argument(help="The cohort's folder.")],
    lesson: Annotated[str | None, typer.Option(help="Only this lesson: 03_heater_power, or 3.")] = None,
    workers: Annotated[int, typer.Option(min=0, max=64, help="How many notebooks at once; 0 is one a core.")] = 0,
    again: Annotated[bool, typer.Option("--again", help="Mark everything, changed or not.")] = False,
    scheduler: Annotated[str, typer.Option(help="Run the notebooks on the Dask cluster at this address.")] = "",
) -> None:
    """Mark what is new or changed, each notebook shut in as well as this computer can. Stop and start at will."""
    from legtoleg.cohort.marking_run import mark_cohort
    from legtoleg.cohort.one_at_a_time import at_work

    with _bar() as (progress, tell), at_work(folder, progress.console.print):
        warn = lambda words: progress.console.print(f"Careful: {words}", markup=False)
        summary = mark_cohort(
            folder, lesson=lesson, workers=workers, again=again, scheduler=scheduler, tell=tell, warn=warn
        )
    _say.print(f"{summary.marked} marked, {summary.unchanged} had not changed. Notebooks ran {summary.how}.")
    for line in summary.attention:
        _say.print(f"! {plain_words(line, 2000)}", markup=False)
    if summary.attention:
        count = len(summary.attention)
        _say.print(f"{count} need{'s' * (count == 1)} you (marked ! above); the rest is done.")
    _say.print(f"Next: legtoleg report {folder}. Feedback pages are in {folder / 'feedback'}.", markup=False)


@app.command("deal-again")
def deal_again(
    folder: Annotated[Path, typer.Argument(help="The cohort's folder.")],
    who: Annotated[str, typer.Option(help="Whose card: an id.")],
    lesson: Annotated[str, typer.Option(help="Of which lesson: 03_heater_power, or 3.")],
) -> None:
    """Deal a new card: the same lesson on a machine with other numbers. After a hold, “mark” does it by itself."""
    from legtoleg.cohort.cohort_folder import Cohort
    from legtoleg.cohort.dealing import deal_again as deal
    from legtoleg.cohort.one_at_a_time import at_work

    cohort = Cohort.at(folder)
    with at_work(folder, _say.print):
        name, number = deal(cohort, who, lesson)
    _say.print(f"{who} gets card {number} of {name}. What was marked before is kept in {folder / 'tries' / who}.")
    _say.print(f"Give them {folder / 'feedback' / who / 'tries.json'}: it goes into the folder of their kit.")


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
        _say.print(f"! {plain_words(line, 600)}", markup=False)
    page = plain_words(written.page, 600)
    _say.print(f"Open {page}. The numbers are in {written.workbook.name} too, and as CSV beside it.", markup=False)
    if written.troubles:
        count = len(written.troubles)
        _say.print(f"{count} thing{'s' * (count != 1)} could not be used (marked ! above); all else is in the report.")
        raise typer.Exit(1)


@app.command()
def doctor(
    folder: Annotated[Path, typer.Argument(help="The folder of a cohort, made or to be made.")] = Path(),
) -> None:
    """Look whether this computer can run the course, and say the cure for what it finds."""
    from legtoleg.cli.doctor import examine

    ill = False
    for finding in examine(folder):
        _say.print(f"{'✓' if finding.well else '!'} {finding.what}: {finding.found}", markup=False)
        if not finding.well:
            _say.print(f"  {finding.cure}", markup=False)
            ill = ill or finding.must
    raise typer.Exit(1 if ill else 0)


@contextmanager
def _bar() -> Iterator[tuple[Progress, Callable[[str, int, int | None], None]]]:
    """Give a progress bar that shows itself with the first step, so that an error before it stands alone."""
    progress = Progress(
        TextColumn("{task.description:<44}"), BarColumn(), MofNCompleteColumn(), TimeElapsedColumn(), console=_say
    )
    bar = progress.add_task("starting", total=None)

    def tell(what: str, done: int, of: int | None) -> None:
        progress.start()
        progress.update(bar, description=escape(what[:44]), completed=done, total=of)

    try:
        yield progress, tell
    finally:
        if progress.live.is_started:
            progress.stop()


app.command("class")(class_)
app.command("class-files")(class_files)
app.command()(machines)
app.command()(netlist)
app.command()(readings)
app.add_typer(refresher, name="refresher")
app.add_typer(supervised, name="supervised")
app.add_typer(witness, name="witness")


def main() -> None:
    """Run the command; an error of ours is one line, never a traceback."""
    try:
        app()
    except LegToLegError as error:
        lines = "\n".join(plain_words(line, 2000) for line in str(error).splitlines())
        Console(stderr=True, highlight=False, soft_wrap=True).print(f"legtoleg: {lines}", markup=False)
        sys.exit(2)
    except KeyboardInterrupt:
        sys.exit(130)
