"""Where everything of a machine of the family is, and how its wires look: it follows from the machine alone."""

from __future__ import annotations

from functools import lru_cache

from dryerbench.bench.machine import Machine
from dryerbench.bench.schoolroom import family_machine
from dryerbench.core.random_stream import Stream
from dryerbench.family.places import Placement, drawn_placement


@lru_cache(maxsize=128)
def placement_of(machine: Machine) -> Placement:
    """Return the places and the wire marks of ``machine``: the same machine, the same places, on every computer."""
    return drawn_placement(family_machine(machine).arrangement, Stream(f"leg-to-leg/places/1/{machine.tag}"))
