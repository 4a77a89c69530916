"""``legtoleg netlist``: a machine in a state as a SPICE deck, so that any simulator can check the bench."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

import typer

from dryerbench.core.errors import LegToLegError


class Cord(StrEnum):
    """The cords that a machine may have."""

    four = "four-wire"
    three = "three-wire"


class ProbesError(LegToLegError, ValueError):
    """A pair of probes that is not two points with a comma between."""


def netlist_text(
    faults: list[str],
    state: str,
    variant: str | None = None,
    cord: str = "four-wire",
    probes: str | None = None,
    *,
    ammeters: bool = False,
) -> str:
    """Return the SPICE deck; with ``probes`` (``T1,T0``) the dead machine with 1 A driven through them.

    Raises
    ------
    LegToLegError
        For a fault, state, cord or point that does not exist.
    """
    from dryerbench.circuits.spice import write_deck
    from legtoleg.cli.settled_scene import scene

    found = scene(faults, state, variant, cord)
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
    state: Annotated[str, typer.Option(help="One of the bench's states, such as heating or unplugged.")] = "heating",
    variant: Annotated[str | None, typer.Option(help="An apprentice's id: their own machine.")] = None,
    cord: Annotated[Cord, typer.Option(help="The cord of the machine.")] = Cord.four,
    probes: Annotated[str | None, typer.Option(help="Two points, such as T1,T0: ohms of the dead machine.")] = None,
    ammeters: Annotated[
        bool, typer.Option("--ammeters", help="Write contacts as ammeters; keeps every digit of floating points.")
    ] = False,
) -> None:
    """Write a machine in a state out as a SPICE deck."""
    typer.echo(netlist_text(fault or [], state, variant, cord.value, probes, ammeters=ammeters), nl=False)
