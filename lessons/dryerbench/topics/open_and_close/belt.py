"""A drum's belt: how far it bends round the motor pulley, and how hard it can pull before it slips."""

from __future__ import annotations

import math
from dataclasses import dataclass

from dryerbench.core.errors import OutOfRangeError

Point = tuple[float, float]

FRICTION = 0.3
"""Friction of the belt on its pulley (plain rubber on steel, from memory; ribs grip better)."""


@dataclass(frozen=True)
class Wheel:
    """A wheel that the belt touches: centre and radius in inches; ``side`` 1 inside the loop, -1 outside."""

    centre: Point
    radius: float
    side: int = 1


@dataclass(frozen=True)
class Strand:
    """A straight piece of belt from ``start`` to ``end``, and its direction in radians."""

    start: Point
    end: Point
    radians: float


DRUM = Wheel((0.0, 0.0), 13.0)
PULLEY = Wheel((6.0, -18.0), 1.0)
MOST_TRAVEL = 4.0
"""How far the idler wheel can push the belt, in inches. These sizes are those of a usual drum, invented for drawing."""
_IDLER_RADIUS = 1.2
_IDLER_PLACE = 0.3  # of the slack strand, counted from the pulley


def strand(one: Wheel, other: Wheel) -> Strand:
    """Return the straight belt that leaves wheel ``one`` for wheel ``other``, the loop running counterclockwise.

    The belt's right-hand normal n meets n·(c2 - c1) = r1 - r2, radii of wheels outside the loop taken as negative.
    """
    across = (other.centre[0] - one.centre[0], other.centre[1] - one.centre[1])
    first, second = one.side * one.radius, other.side * other.radius
    normal = math.atan2(across[1], across[0]) - math.acos((first - second) / math.hypot(*across))
    aside = (math.cos(normal), math.sin(normal))
    start = (one.centre[0] + first * aside[0], one.centre[1] + first * aside[1])
    end = (other.centre[0] + second * aside[0], other.centre[1] + second * aside[1])
    return Strand(start, end, normal + math.pi / 2.0)


def idler(travel: float) -> Wheel:
    """Return the idler wheel that pushes the slack strand ``travel`` inches into the loop.

    Raises
    ------
    OutOfRangeError
        If the travel is not from 0 to ``MOST_TRAVEL`` inches.
    """
    if not 0.0 <= travel <= MOST_TRAVEL:
        raise OutOfRangeError(f"The idler travels from 0 to {MOST_TRAVEL:g} in, not {travel:g} in.")
    slack = strand(PULLEY, DRUM)
    place = [a + _IDLER_PLACE * (b - a) for a, b in zip(slack.start, slack.end, strict=True)]
    outward = (math.sin(slack.radians), -math.cos(slack.radians))
    out = _IDLER_RADIUS - travel
    return Wheel((place[0] + out * outward[0], place[1] + out * outward[1]), _IDLER_RADIUS, -1)


def strands(travel: float) -> tuple[Strand, Strand, Strand]:
    """Return the belt's straight pieces, drum to pulley, pulley to idler, idler to drum, for ``travel`` inches."""
    wheel = idler(travel)
    return strand(DRUM, PULLEY), strand(PULLEY, wheel), strand(wheel, DRUM)


def wrap_degrees(travel: float) -> float:
    """Return the degrees that the belt lies round the motor pulley with the idler ``travel`` inches in."""
    arriving, leaving, _ = strands(travel)
    return math.degrees(leaving.radians - arriving.radians) % 360.0


def grip(degrees: float, friction: float = FRICTION) -> float:
    """Return how many times harder the tight side may pull than the slack side (Euler and Eytelwein, e^(μθ)).

    Raises
    ------
    OutOfRangeError
        If the angle or the friction is negative.
    """
    if degrees < 0 or friction < 0:
        raise OutOfRangeError("The belt's angle and its friction are 0 or more.")
    return math.exp(friction * math.radians(degrees))


@dataclass(frozen=True)
class Belt:
    """How a belt lies: its ribs, the idler's push in inches, whether it goes round the motor pulley, a half twist."""

    ribs_inward: bool = True
    travel: float = 2.5
    on_pulley: bool = True
    twisted: bool = False

    @property
    def drives(self) -> int:
        """Which way the drum goes when the motor turns forward: 1, -1, or 0 if the belt misses the pulley."""
        return 0 if not self.on_pulley else -1 if self.twisted else 1

    @property
    def wrap(self) -> float:
        """The degrees that it lies round the motor pulley."""
        return wrap_degrees(self.travel) if self.on_pulley else 0.0

    @property
    def words(self) -> str:
        """What is seen and felt when the drum is turned by hand."""
        motor = {1: "motor turns with the drum", -1: "motor turns against the drum", 0: "motor does not turn"}
        side = "smooth back" if self.ribs_inward else "ribs"
        idler = f"idler on the {side}" if self.travel else "idler beside it"
        return f"{motor[self.drives]}; {self.wrap:.0f}° around the pulley; {idler}"
