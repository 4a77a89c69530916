"""The machine of the family, its faults and its state that a command names, settled."""

from __future__ import annotations

from dryerbench.bench.situation import situation_of
from dryerbench.core.errors import LegToLegError
from dryerbench.core.random_stream import stream_for
from dryerbench.family.faults import read_fault
from dryerbench.family.machine import drawn_machine, standard
from dryerbench.family.settings import read_setting
from dryerbench.family.settling import settle
from dryerbench.family.shelf import arrangement
from legtoleg.cli.settled_scene import Scene


class CordError(LegToLegError, ValueError):
    """A cord asked for that the machine does not have."""


def family_scene(
    machine: str, faults: list[str], state: str, variant: str | None = None, cord: str | None = None
) -> Scene:
    """Return the scene of a machine of the family, as its sheet says or of the apprentice ``variant``.

    Raises
    ------
    LegToLegError
        For a machine, fault or state that does not exist, or a cord that the machine does not have.
    """
    made = arrangement(machine)
    if cord is not None and cord != made.cord:
        raise CordError(f"The dryer {machine} has a {made.cord} cord: leave --cord out.")
    known = [read_fault(fault, made) for fault in faults]
    one = standard(made) if variant is None else drawn_machine(made, stream_for(variant, f"bench/{machine}"), variant)
    found = settle(one, known, read_setting(state))
    named = ", ".join(str(fault) for fault in known) or "no fault"
    after = f" ({'; '.join(found.happened)})" if found.happened else ""
    title = f"dryer {machine} {one.name}, {made.cord} cord, {named}, state {state}{after}"
    return Scene(situation_of(found), title)
