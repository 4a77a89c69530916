"""The second dryer of lesson 07: another arrangement of the family, and what its own netlist says of its heater line.

Nothing of a machine is written here. Which part stops all heat, which leg reaches the heater and what a meter reads
with one contact open is solved on the sheet's circuit (``family.readings``: cold coils, 120 V a leg, no loss in wires).
"""

from __future__ import annotations

from functools import cache

from dryerbench.circuits.solver import solve
from dryerbench.core.random_stream import Stream
from dryerbench.family.arrangement import BLOCK, CABINET, Arrangement, Expectation
from dryerbench.family.contacts import contacts
from dryerbench.family.kinds import Component
from dryerbench.family.machine import standard
from dryerbench.family.readings import circuit_in, coil_watts, legs_at, plain_value, worked_out
from dryerbench.family.settings import read_setting
from dryerbench.machine_view.rungs import Item, rungs_of

EXAMPLE = "cellar"
"""The dryer on which the lesson shows how it is done."""
GRADED = ("cabin", "closet", "hallway", "pantry", "porch", "workshop")
"""The dryers dealt as the second dryer: one, two and three coils, a dial or a board, heat switched in any leg."""
PRACTICED = ("alcove", "attic", "cellar", "mudroom")
"""The dryers of the practice cards; nobody is dealt one of those."""
SET = {
    "run air": "plugged in, drum turning, heat off",
    "stop high": "plugged in, door closed, set to high, drum stopped",
}
"""How the second dryer may be set where it is asked which leg reaches its heater, by the state of the sheets."""

_STARTING = ("start switch", "hold contact")
_NOTHING_WATTS = 1.0


@cache
def heater_line(made: Arrangement) -> tuple[Item, ...]:
    """Return the heater's line of ``made``: its parts and coils in order, each with the points on either side."""
    return tuple(rungs_of(made)[0].items)


def leg_of(made: Arrangement, point: str) -> str:
    """Return which of L1, L2 and N wires alone join to ``point``; empty if none."""
    return next((leg for leg in BLOCK if made.net[leg] == made.net[point]), "")


def part_of(made: Arrangement, item: Item) -> Component | None:
    """Return the part of an item; None for a coil."""
    return made.by_name.get(item.names[0])


@cache
def suspects(made: Arrangement) -> tuple[Component, ...]:
    """Return the parts with one contact that a mechanic may suspect: not those that start the motor."""
    return tuple(part for part in made.parts if len(part.kind.throws) == 1 and part.kind.name not in _STARTING)


@cache
def stops_all_heat(made: Arrangement, name: str) -> bool:
    """Return whether the part ``name``, open, leaves no watts in any coil, the drum turning, the highest heat on."""
    live = solve(circuit_in(made, f"run {made.heats[0]}, {name} open"))
    return coil_watts(made, live) < _NOTHING_WATTS


@cache
def legs_at_heater(made: Arrangement, state: str) -> frozenset[str]:
    """Return which legs (``leg 1``, ``leg 2``) reach the heater in ``state``, one of ``SET``."""
    found = legs_at(made, "heater", state)
    return frozenset() if found == "nothing" else frozenset(found.split(" + "))


@cache
def volts_read(made: Arrangement, a: str, b: str, open_part: str) -> float:
    """Return the V from ``a`` to ``b`` with the drum turning, the highest heat on and the part ``open_part`` open."""
    asked = Expectation("between", (a, b), f"run {made.heats[0]}, {open_part} open", "")
    return plain_value(worked_out(made, asked))


@cache
def single_contacts(made: Arrangement) -> tuple[Item, ...]:
    """Return those items of the heater's line that are one contact through which all heat goes."""
    line = ((item, part_of(made, item)) for item in heater_line(made))
    return tuple(item for item, part in line if part in suspects(made) and stops_all_heat(made, item.names[0]))


def dealt_readings(made: Arrangement, stream: Stream) -> tuple[Item, tuple[tuple[str, str], ...]]:
    """Return an open contact of the heater's line, and three pairs of points to predict the volts of.

    One pair is from the block's far terminal to a point of the line, one across a contact, one past the open place:
    to the cabinet or across a coil.
    """
    line = heater_line(made)
    opened = stream.choose(single_contacts(made))
    far = leg_of(made, line[-1].right)
    points = [point for item in line for point in (item.left, item.right) if not leg_of(made, point)]
    point = stream.choose(points)
    item = stream.choose((opened, stream.choose([one for one in single_contacts(made) if one != opened])))
    coil = next(one for one in line if part_of(made, one) is None)
    last = stream.choose(((_past(made, opened), CABINET), (coil.left, coil.right)))
    return opened, ((far, point), (item.left, item.right), last)


def _past(made: Arrangement, opened: Item) -> str:
    """Return the first point past the open contact that is no terminal of the block; the one before it at the end."""
    line = heater_line(made)
    behind = [item.left for item in line[line.index(opened) + 1 :]]
    return next((point for point in [opened.right, *behind] if not leg_of(made, point)), opened.left)


@cache
def resting_line(made: Arrangement) -> tuple[str, ...]:
    """Return the points of the longest stretch of the heater's line whose contacts are closed dead, set to heat.

    It ends at a block terminal, at a contact that is open at rest, or before the wire of a coil, which is off.
    """
    line, closed = heater_line(made), contacts(standard(made), read_setting(made.heats[0]))
    best: list[int] = []
    here: list[int] = []
    for place, item in enumerate(line):
        here = [*here, place] if closed.get(item.names[0], False) else []
        best = max(best, here, key=len)
    inner = [point for place in best for point in (line[place].left, line[place].right)]
    start = _end_of_rest(made, line[best[0] - 1].right if best[0] else leg_of(made, line[0].left))
    after = best[-1] + 1
    end = _end_of_rest(made, line[after].left if after < len(line) else leg_of(made, line[-1].right))
    return (*start, *inner, *end)


def _end_of_rest(made: Arrangement, point: str) -> tuple[str, ...]:
    return () if point in made.box_terminals else (point,)


def at_rest(made: Arrangement) -> Item:
    """Return the contact of the heater's line that is open at rest and no relay: the centrifugal switch."""
    switch = made.of_kind("motor contact")[0]
    return next(item for item in heater_line(made) if item.names[0] == switch.name)


SECOND_DEAD: tuple[tuple[tuple[str, bool], ...], ...] = (
    (("whole", True),),
    (("whole", True), ("half", True)),
    (("whole", True), ("half", False)),
    (("whole", False),),
)
"""What may have been read dead of the second dryer: the whole stretch, its first half, and whether that was open."""


def stretches(made: Arrangement) -> dict[str, tuple[str, str]]:
    """Return the two points of each stretch that can be read next: the whole, its first half, and halves of halves."""
    line = resting_line(made)
    last = len(line) - 1
    half = last // 2
    ends = {"whole": (0, last), "half": (0, half), "first": (0, half // 2), "third": (half, (half + last) // 2)}
    return {name: (line[a], line[b]) for name, (a, b) in ends.items()}
