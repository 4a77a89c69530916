"""A machine of one's own: one arrangement, its numbers and its places, the same for one person on every computer."""

from __future__ import annotations

from dataclasses import dataclass

from dryerbench.core.random_stream import Stream
from dryerbench.family.arrangement import Arrangement, Cover, Mark
from dryerbench.family.machine import Machine, drawn_machine, standard
from dryerbench.family.places import Placement, Seat, drawn_placement, plain_placement


@dataclass(frozen=True, eq=False)
class OwnMachine:
    """What stands in front of a person: the machine with its numbers, and where everything of it is."""

    machine: Machine
    placement: Placement

    @property
    def arrangement(self) -> Arrangement:
        """The arrangement it is of."""
        return self.machine.arrangement

    @property
    def seats(self) -> dict[str, Seat]:
        """Where each terminal of the heater box sits."""
        return self.placement.seats

    @property
    def marks(self) -> tuple[Mark, ...]:
        """The marks of the wires, in the order of the arrangement's wires."""
        return self.placement.marks

    @property
    def covers(self) -> tuple[Cover, ...]:
        """The covers in an order in which they can come off."""
        return self.placement.covers


def own_machine(made: Arrangement, stream: Stream, name: str) -> OwnMachine:
    """Return the machine of ``name``; numbers and places are drawn from streams of their own beside ``stream``."""
    numbers, places = stream.beside("numbers"), stream.beside("places")
    return OwnMachine(drawn_machine(made, numbers, name), drawn_placement(made, places))


def sheet_machine(made: Arrangement) -> OwnMachine:
    """Return the machine that is as its file says, in numbers and places: for practice, and for pictures."""
    return OwnMachine(standard(made), plain_placement(made))
