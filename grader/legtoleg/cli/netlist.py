"""``legtoleg netlist``: a machine in a state as a SPICE deck, so that any simulator can check the bench."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING, Annotated

import typer

from dryerbench.core.errors import LegToLegError
from legtoleg.cli.terminal import say_text

if TYPE_CHECKING:
    from legtoleg.cli.settled_scene import Scene


class Cord(StrEnum):
    """The cords that a machine may have."""

    four = "four-wire"
    three = "three-wire"


class ProbesError(LegToLegError, ValueError):
    """A pair of probes that is not two points with a comma between."""


def named_scene(
    machine: str | None,
    faults: list[str],
    state: str | None,
    variant: str | None,
    cord: str | None,
    usual: tuple[str, str] = ("heating", "run high"),
) -> Scene:
    """Return the scene of the practice machine, or of ``machine``; ``usual`` are their states if none is named."""
    if machine is None:
        from legtoleg.cli.settled_scene import scene

        return scene(faults, state or usual[0], variant, cord or Cord.four.value)
    from legtoleg.cli.family_scene import family_scene

    return family_scene(machine, faults, state or usual[1], variant, cord)


def netlist_text(
    faults: list[str],
    state: str | None,
    variant: str | None = None,
    cord: str | None = None,
    probes: str | None = None,
    *,
    ammeters: bool = False,
    machine: str | None = None,
) -> str:
    """Return the SPICE deck; with ``probes`` (``T1,T0``) the dead machine with 1 A driven through them.

    Raises
    ------
    LegToLegError
        For a fault, state, cord or point that does not exist.
    """
    from dryerbench.circuits.spice import write_deck

    found = named_scene(machine, faults, state, variant, cord)
    pair = None
    if probes is not None:
        ends = [end.strip() for end in probes.split(",")]
        if len(ends) != 2 or not all(ends):
            raise ProbesError(f"Give two points with a comma between, such as T1,T0; not '{probes}'.")
        for end in ends:
            found.situation.dead.index(end)
        pair = (ends[0], ends[1])
    return write_deck(found.situation.circuit, found.title, pair, ammeters=ammeters)


def netlist(
    fault: Annotated[list[str] | None, typer.Option(help="NAME or NAME=STRENGTH; may be given again.")] = None,
    state: Annotated[
        str | None, typer.Option(help="One of the bench's states, such as heating; of a dryer by name: run high.")
    ] = None,
    variant: Annotated[str | None, typer.Option(help="An apprentice's id: their own dryer.")] = None,
    cord: Annotated[Cord | None, typer.Option(help="The cord of the practice dryer.")] = None,
    machine: Annotated[
        str | None, typer.Option("--dryer", "--machine", help="A dryer of the family; “legtoleg dryers” lists them.")
    ] = None,
    probes: Annotated[str | None, typer.Option(help="Two points, such as T1,T0: ohms of the dead dryer.")] = None,
    ammeters: Annotated[
        bool, typer.Option("--ammeters", help="Write contacts as ammeters; keeps every digit of floating points.")
    ] = False,
) -> None:
    """Write a dryer in a state out as a SPICE deck."""
    wanted = cord.value if cord else None
    text = netlist_text(fault or [], state, variant, wanted, probes, ammeters=ammeters, machine=machine)
    say_text(text)
