"""The ``legtoleg supervised`` commands: tests whose machines the class holds, opened and closed by the instructor."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from legtoleg.cli.file_trouble import OneLineGroup
from legtoleg.cli.terminal import say_line

if TYPE_CHECKING:
    from legtoleg.classroom.class_folder import ClassFolder
    from legtoleg.classroom.sealed_book import SupervisedTest

app = typer.Typer(
    cls=OneLineGroup,
    help="Supervised tests in a class: the class holds the dryer and its fault, and writes every act.",
    no_args_is_help=True,
    add_completion=False,
)
Folder = Annotated[Path, typer.Argument(metavar="COHORT", help="The cohort's folder.")]
Test = Annotated[str, typer.Argument(metavar="TEST", help="The test's name, as “supervised list” says it.")]
To = Annotated[
    list[str] | None, typer.Option("--to", help="An id; several times, or with commas, for several. None: everyone.")
]
Minutes = Annotated[float, typer.Option(min=1, max=1440, help="For how many minutes it is open.")]


def _room(folder: Path) -> ClassFolder:
    from legtoleg.classroom.class_folder import ClassFolder
    from legtoleg.cohort.cohort_folder import Cohort

    room = ClassFolder(Cohort.at(folder))
    room.prepare()
    return room


def _ids(to: list[str] | None, everybody: list[str]) -> list[str]:
    named = [one.strip() for many in to or [] for one in many.split(",") if one.strip()]
    return list(dict.fromkeys(named)) or everybody


def _opened(test: SupervisedTest, count: int) -> None:
    until = datetime.fromtimestamp(test.until).astimezone()
    say_line(f"{test.test} is open for {count} until {until:%H:%M}: each finds it on the page “supervised_test”.")


@app.command("calls")
def calls_(folder: Folder, to: To = None, minutes: Minutes = 120.0) -> None:
    """Open a test of three calls: find, repair and prove; find what caused it; stop and hand over."""
    from legtoleg.classroom.sealed_book import SealedBook
    from legtoleg.classroom.sealed_opening import open_calls

    room = _room(folder)
    test = open_calls(room, _ids(to, [person.id for person in room.cohort.people()]), minutes)
    _opened(test, len(SealedBook.of(room).takers(test.test)))


@app.command("refresher")
def refresher_(
    folder: Folder,
    shop: Annotated[Path, typer.Option("--shop", help="The shop's folder, whose ledger records the tests.")],
    to: To = None,
    minutes: Minutes = 60.0,
) -> None:
    """Open a refresher test for people of a shop, to be taken at the class's door."""
    from legtoleg.classroom.sealed_refresher import open_refresher
    from legtoleg.cli.refresher_options import shop_at

    room, here = _room(folder), shop_at(shop)
    whos = _ids(to, [person.id for person in room.cohort.people() if person.id in here.people()])
    _opened(open_refresher(room, here, whos, minutes), len(whos))


@app.command("list")
def list_(folder: Folder) -> None:
    """Say which tests there are, who takes them, and how far each is."""
    from legtoleg.classroom.sealed_book import SealedBook
    from legtoleg.classroom.sealed_dealing import jobs_of

    book = SealedBook.of(_room(folder))
    for test in book.tests():
        at, until = (datetime.fromtimestamp(second).astimezone() for second in (test.at, test.until))
        say_line(f"{test.test}: {at:%Y-%m-%d %H:%M} to {until:%H:%M}")
        for who, told in book.takers(test.test).items():
            did = book.did(test.test, who, [job.key for job in jobs_of(test.kind, told)])
            acts = ", ".join(f"{job} {count}" for job, count in did.items()) or "no bench"
            say_line(f"    {who:<14} {'open' if book.is_open(test, who) else 'ended'}; acts: {acts}")
    if not book.tests():
        say_line("No supervised test was opened in this class.")


@app.command("close")
def close_(
    folder: Folder,
    test: Test,
    to: Annotated[list[str] | None, typer.Option("--to", help="An id; for this person alone.")] = None,
) -> None:
    """Close a test before its time, for everybody or for one person. It cannot be opened again."""
    from legtoleg.classroom.sealed_book import EVERYBODY, SealedBook, SupervisedError

    book = SealedBook.of(_room(folder))
    takers = book.takers(book.test(test).test)
    for who in _ids(to, [EVERYBODY]):
        if who and who not in takers:
            raise SupervisedError(f"{who} does not take {test}. Nothing was closed for that id.")
        book.end(test, who)
        say_line(f"{test} is closed for {who or 'everybody'}. What was done is kept.")


@app.command("mark")
def mark_(folder: Folder, test: Test) -> None:
    """Grade a test of calls by what the class wrote down."""
    from legtoleg.classroom.sealed_marking import mark_calls

    room = _room(folder)
    for one in mark_calls(room, test):
        if not one.took_part:
            say_line(f"{one.who:<14} took no part: this test does not count for that id")
            continue
        points = f"{sum(o.points for o in one.outcomes):g} of {sum(o.max_points for o in one.outcomes):g}"
        held = [o.question for o in one.outcomes if o.safety in ("held", "open")]
        left = ", ".join(name for name, done in one.closed.items() if not done)
        why = f"; {left} not closed" if left else ""
        why += f"; safety not clear: {', '.join(held)}" if held else ""
        say_line(f"{one.who:<14} {'passed' if one.passed else 'not passed'}, {points} points{why}")
    say_line(f"Pages: {room.cohort.folder / 'feedback'}/ID/supervised-{test}.html. All: class/supervised/{test}.json")


@app.command("count")
def count_(
    folder: Folder,
    how: Annotated[
        str,
        typer.Argument(
            metavar="[too|alone|not]",
            help="too: a passed test closes the calls as well as the page does. alone: nothing else closes them. "
            "not: tests do not count. Without it, the command says what holds.",
        ),
    ] = "",
) -> None:
    """Decide how supervised tests count to the three calls in the report."""
    from legtoleg.report.supervised_calls import WHAT_COUNTS, Counts, CountsError, counts_in, set_counts

    room = _room(folder)
    if how and how not in tuple(Counts):
        raise CountsError(f"{how!r:.40} is no such rule: say too, alone or not.")
    if how:
        set_counts(room.cohort.folder, Counts(how))
    say_line(WHAT_COUNTS[counts_in(room.cohort.folder)])


@app.command("record")
def record_(folder: Folder, test: Test) -> None:
    """Grade a refresher that was taken in the class, and enter each outcome in the shop's ledger, once."""
    from legtoleg.classroom.sealed_refresher import record_refresher
    from legtoleg.sandbox.engine_choice import choose_engine

    chosen = choose_engine(1)
    if chosen.warning:
        say_line(f"Careful: {chosen.warning}")
    failed = False
    try:
        for one in record_refresher(_room(folder), test, chosen.engine):
            if one.recorded is None:
                failed = True
                say_line(f"! {one.who}: {one.trouble}")
                continue
            marked, entry = one.recorded.marked, one.recorded.entry
            verdict = "passed" if marked.passed else "not passed"
            say_line(f"{one.who:<14} {verdict}, {marked.points:g} of {marked.of:g} points: entry {entry.number}")
    finally:
        chosen.engine.close()
    if failed:
        raise typer.Exit(2)
