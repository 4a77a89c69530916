"""The rungs of the wiring sheet: the arrangement's ways as rows of parts between columns of joined points.

Each way of the file becomes a row with those of its parts that no row above has; a net (points that wires alone join)
has one column, so that every part hangs between the columns of its two nets.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from dryerbench.family.arrangement import Arrangement, Step, Way

Pair = tuple[str, str]
"""Two points: where a way enters a part and where it leaves it."""


@dataclass(frozen=True, slots=True)
class Item:
    """A part (or several beside each other, or a coil) on a rung, with the points on its left and on its right."""

    names: tuple[str, ...]
    left: str
    right: str


@dataclass(slots=True)
class Rung:
    """A row: its items from left to right, and the points at its two ends."""

    items: list[Item]
    start: str
    end: str
    title: str = ""
    placed: list[tuple[float, float]] = field(default_factory=list)
    y: float = 0.0


def _pairs(made: Arrangement, name: str) -> Iterator[Pair]:
    """Yield the points by which a step can be entered and left."""
    if " coil " in name:
        a, _, b = name.partition(" coil ")
        yield f"Box.{a}", f"Box.{b}"
        yield f"Box.{b}", f"Box.{a}"
        return
    part = made.by_name.get(name)
    if part is None:
        yield name, name
        return
    if part.kind.name == "splice":
        yield part.terminals[0], part.terminals[0]
        return
    ends = ("r", "c") if part.kind.name == "motor" else ("L", "N") if part.kind.name == "board" else ()
    if ends:
        a, b = (f"{name}.{end}" for end in ends)
        yield a, b
        yield b, a
        return
    throws = part.kind.throws or (("1", "2"),)
    for x, y in throws:
        yield f"{name}.{x}", f"{name}.{y}"
        yield f"{name}.{y}", f"{name}.{x}"


def walked(made: Arrangement, way: Way) -> list[tuple[Step, Pair]]:
    """Return, for each step of a way, the points by which the current enters and leaves it."""
    net = made.net

    def go(rest: tuple[Step, ...], here: str | None) -> list[tuple[Step, Pair]] | None:
        if not rest:
            return []
        step = rest[0]
        for a, b in _pairs(made, step[0]):
            if here is not None and net[a] != here:
                continue
            further = go(rest[1:], net[b])
            if further is not None:
                return [(step, (a, b)), *further]
        return None

    found = go(way.steps, None)
    return found or []


def _is_new(made: Arrangement, step: Step, drawn: set[str]) -> bool:
    name = step[0]
    if " coil " in name:
        a, _, b = name.partition(" coil ")
        return " coil ".join(sorted((a, b))) not in drawn
    return name in made.by_name and made.by_name[name].kind.name != "splice" and name not in drawn


def _note(step: Step, drawn: set[str]) -> None:
    for name in step:
        a, coil, b = name.partition(" coil ")
        drawn.add(" coil ".join(sorted((a, b))) if coil else name)


def rungs_of(made: Arrangement) -> list[Rung]:
    """Return the rungs; sensors and other parts that no way names follow the way of the board (``leftovers``)."""
    drawn: set[str] = set()
    found = []
    for way in _longer_first(made):
        steps = walked(made, way)
        fresh = [(step, pair) for step, pair in steps if _is_new(made, step, drawn)]
        if not fresh:
            continue
        for step, _ in fresh:
            _note(step, drawn)
        items = [Item(step, a, b) for step, (a, b) in fresh]
        found.append(Rung(items, items[0].left, items[-1].right, way.title))
    return found


def _longer_first(made: Arrangement) -> list[Way]:
    """Return the ways, a way that shares its beginning with a later, longer one after that one."""
    ways = list(made.ways)
    for place in range(1, len(ways)):
        for later in range(place + 1, len(ways)):
            shares = ways[place].steps[:2] == ways[later].steps[:2]
            if shares and len(ways[later].steps) > len(ways[place].steps):
                ways[place], ways[later] = ways[later], ways[place]
    return ways


def leftovers(made: Arrangement) -> list[str]:
    """Return the parts that no way names, such as sensors."""
    named = {name for way in made.ways for step in way.steps for name in step}
    return [part.name for part in made.parts if part.name not in named and part.kind.name != "splice"]
