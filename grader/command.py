"""The ``legtoleg`` command."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer
from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn

from dryerbench.errors import LegToLegError
from grader.netlist import netlist
from grader.readings import readings

app = typer.Typer(
    name="legtoleg",
    help="Leg to Leg: learn, prove and keep the skill of testing a 240 V dryer's heater.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)
_say = Console(highlight=False, soft_wrap=True)


@app.command("try")
def try_(
    out: Annotated[Path, typer.Option(help="A new folder for everything that is made.")],
    apprentices: Annotated[int, typer.Option(min=1, max=99, help="How many to make up.")] = 12,
    seed: Annotated[int, typer.Option(help="Another number makes up another cohort.")] = 1,
) -> None:
    """Make up a cohort, let it hand in, mark it the real way, and hold the marks against the truth."""
    from grader.trial import run_trial  # noqa: PLC0415

    with Progress(
        TextColumn("{task.description:<44}"), BarColumn(), MofNCompleteColumn(), TimeElapsedColumn(), console=_say
    ) as progress:
        bar = progress.add_task("starting", total=None)
        result = run_trial(
            out,
            apprentices,
            seed,
            lambda what, done, of: progress.update(bar, description=what, completed=done, total=of),
        )
    _say.print(
        f"Right answers: {result.right}. Slips: {result.slips}. Other (follow-through, blank, …): {result.other}."
    )
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
    from grader.building import build as build_all  # noqa: PLC0415
    from grader.building import stale  # noqa: PLC0415

    if check:
        old = stale()
        for path, _ in old:
            _say.print(f"{path.name} is not what its source makes: run “legtoleg build”.")
        raise typer.Exit(1 if old else 0)
    changed = build_all()
    _say.print("\n".join(f"built {path.name}" for path in changed) or "Everything was up to date.")


@app.command()
def lab() -> None:
    """Open JupyterLab at the lessons, with the Python of this course."""
    from grader.lab import open_lab  # noqa: PLC0415

    sys.exit(open_lab())


@app.command()
def kit(
    apprentice: Annotated[str, typer.Argument(help="Their id: letters, digits, dots, dashes.")],
    out: Annotated[Path, typer.Option(help="The folder to put the kit's zip file in.")] = Path(),
) -> None:
    """Pack the kit of one apprentice: the lessons and their tables, marked with the id."""
    from grader.kit import pack  # noqa: PLC0415

    _say.print(f"Packed {pack(apprentice, out)}.")


app.command()(netlist)
app.command()(readings)


def main() -> None:
    """Run the command; an error of ours is one line, never a traceback."""
    try:
        app()
    except LegToLegError as error:
        Console(stderr=True, highlight=False, soft_wrap=True).print(f"legtoleg: {error}")
        sys.exit(2)
    except KeyboardInterrupt:
        sys.exit(130)
