"""What stands in which close-up, and the spots that a probe can reach there; an id of a spot says the place alone."""

from __future__ import annotations

from functools import lru_cache

from dryerbench.family.arrangement import BLOCK, CABINET
from dryerbench.family.kinds import Component
from dryerbench.family.own_machine import OwnMachine
from dryerbench.family.places import Placement

WALL_SLOTS = {"four-wire": ("1", "N", "2", "G"), "three-wire": ("1", "N", "2")}
BOX_STAND = "box"


def slug(words: str) -> str:
    """Return words as one word of an id."""
    return words.replace(" ", "-")


def box_name(number: int) -> str:
    """Return the id of the close-up of a heater box, 0 or 1."""
    return f"box-{number + 1}"


def box_of(placement: Placement, part: str) -> int:
    """Return on which heater box (0, 1) a part of the ``box`` stands: the one that the same cover bares."""
    for cover in placement.covers:
        if part in cover.bares:
            return next((placement.seats[t].box for t in sorted(placement.seats) if t in cover.bares), 0)
    return 0


def parts_at(own: OwnMachine, view: str) -> tuple[Component, ...]:
    """Return the parts that stand in a close-up, such as ``motor`` or ``box-1``, in the order of the file."""
    found = []
    for part in own.arrangement.parts:
        stand = own.placement.stands.get(part.name)
        if stand is None:
            continue
        here = box_name(box_of(own.placement, part.name)) if stand == BOX_STAND else slug(stand)
        if here == view:
            found.append(part)
    return tuple(found)


@lru_cache(maxsize=64)
def views(own: OwnMachine) -> tuple[str, ...]:
    """Return the close-ups that a machine has: boxes, block, wall, and every place on which parts stand."""
    stands = [slug(stand) for stand in dict.fromkeys(own.placement.stands.values()) if stand != BOX_STAND]
    boxes = [box_name(number) for number in range(len(own.arrangement.boxes))]
    return (*boxes, "block", "wall", *stands)


def _in_view(own: OwnMachine, view: str) -> dict[str, str]:
    if view == "wall":
        slots = WALL_SLOTS[own.arrangement.cord]
        found = {f"wall-{place}": f"outlet-{slot}" for place, slot in enumerate(slots, start=1)}
        return found | {f"plug-{place}": f"plug-{slot}" for place, slot in enumerate(slots, start=1)}
    if view == "block":
        ends = (BLOCK[0], BLOCK[2], BLOCK[1])
        return {f"block-{place}": end for place, end in enumerate(ends, start=1)} | {"block-metal": CABINET}
    found = {}
    if view.startswith("box-"):
        there = [t for t in own.placement.in_order if box_name(own.seats[t].box) == view]
        found = {own.seats[terminal].spot: terminal for terminal in there}
    terminals = [t for part in parts_at(own, view) for t in own.arrangement.present(part)]
    found |= {f"{view}-{place}": terminal for place, terminal in enumerate(terminals, start=1)}
    return found | {f"{view}-metal": CABINET}


@lru_cache(maxsize=64)
def spots_of(own: OwnMachine, view: str) -> dict[str, str]:
    """Return the point behind each spot of a close-up; the id of a spot says nothing but where it is.

    Raises
    ------
    KeyError
        For a close-up that the machine does not have.
    """
    if view not in views(own):
        raise KeyError(f"The dryer {own.arrangement.name} has no close-up '{view}'.")
    return _in_view(own, view)


def body_spots(own: OwnMachine, view: str) -> dict[str, str]:
    """Return the part behind each body of a close-up; as with a terminal, the id says the place alone."""
    return {f"{view}-body-{place}": part.name for place, part in enumerate(parts_at(own, view), start=1)}


def spots_at(own: OwnMachine, view: str) -> dict[str, str]:
    """Return the spot of each point of a close-up."""
    return {point: spot for spot, point in spots_of(own, view).items()}
