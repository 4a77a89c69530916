"""Where everything of one machine is: which terminal sits where, which mark a wire has, which covers hide what.

The arrangement says what is possible; a stream draws it, so that neither a place nor a mark tells the shared terminal:
any order of the terminals over the seats of their box (ends of a jumper stay neighbors), mirrored, turned or boxes
swapped where the file allows it, and a mark of its own for each wire. Two wires at one part never have the same mark,
and white plain stays the mark of neutrals. Drawings, the order of the Tab key and spoken names follow the seat.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache, cached_property
from itertools import permutations, product

from dryerbench.core.random_stream import Stream
from dryerbench.family.arrangement import BLOCK, Arrangement, Cover, HeaterBox, Mark, Wire

NEUTRAL = Mark("white", "plain")
MARKS = tuple(
    mark
    for tone, tracer in product(("white", "brass", "slate", "black"), ("plain", "dash", "ring"))
    if (mark := Mark(tone, tracer)) != NEUTRAL
)
"""The eleven marks that tell nothing."""


@dataclass(frozen=True, slots=True, order=True)
class Seat:
    """Where a terminal sits: the box (0, 1), then row and column from the top left, as one looks at the terminals."""

    box: int
    row: int
    column: int

    @property
    def spot(self) -> str:
        """An id for drawings, which says nothing but the place."""
        return f"box-{self.box + 1}-{self.column}-{self.row}"


@dataclass(frozen=True, eq=False)
class Placement:
    """One machine's places: the seat of each box terminal, the mark of each wire, and how its boxes are turned."""

    arrangement: Arrangement
    seats: dict[str, Seat]
    marks: tuple[Mark, ...]
    mirrored: bool = False
    turned: bool = False
    swapped: bool = False

    @cached_property
    def in_order(self) -> tuple[str, ...]:
        """The box terminals by their seats: box by box, row by row, from left to right."""
        return tuple(sorted(self.seats, key=lambda terminal: self.seats[terminal]))

    @cached_property
    def stands(self) -> dict[str, str]:
        """On what each part stands, such as ``console`` or ``box``."""
        return dict(self.arrangement.stands)

    @cached_property
    def covers(self) -> tuple[Cover, ...]:
        """The covers in an order in which they can come off; the last goes back first.

        Boxes that are swapped take what stands on them along: the cover of each place bares the other one's.
        """
        covers = self.arrangement.covers
        over = [cover for cover in covers if any(thing.startswith("Box.") for thing in cover.bares)]
        if not self.swapped or len(over) != 2:
            return covers
        there = {over[0]: _boxed(over[1]) + _fixed(over[0]), over[1]: _boxed(over[0]) + _fixed(over[1])}
        return tuple(replace(cover, bares=there.get(cover, cover.bares)) for cover in covers)

    def mark_of(self, wire: Wire) -> Mark:
        """Return the mark of a wire of this machine."""
        return self.marks[self.arrangement.wires.index(wire)]

    def covers_over(self, thing: str) -> tuple[Cover, ...]:
        """Return the covers that must be off to reach a part, a terminal or the ``block``, in their order.

        Raises
        ------
        KeyError
            For something that no cover of this machine hides.
        """
        by_name = {cover.name: cover for cover in self.covers}
        part = thing.partition(".")[0]
        last = next((cover for cover in self.covers if {_hidden(thing), part, thing} & set(cover.bares)), None)
        if last is None:
            raise KeyError(f"No cover of the dryer {self.arrangement.name} hides {thing}.")
        chain = [last]
        while chain[0].after:
            chain.insert(0, by_name[chain[0].after])
        return tuple(chain)

    def screws_to(self, thing: str) -> int:
        """Return how many screws come out on the way to a part, a terminal or the ``block``."""
        return sum(count for cover in self.covers_over(thing) for count, _ in cover.screws)


def _boxed(cover: Cover) -> tuple[str, ...]:
    """Return what a cover bares but the block, which stays where it is."""
    return tuple(thing for thing in cover.bares if thing != "block")


def _fixed(cover: Cover) -> tuple[str, ...]:
    return tuple(thing for thing in cover.bares if thing == "block")


def _hidden(thing: str) -> str:
    return "block" if thing in BLOCK else thing


def _neighbors(a: tuple[int, int], b: tuple[int, int]) -> bool:
    return abs(a[0] - b[0]) + abs(a[1] - b[1]) == 1


@cache
def seat_orders(made: Arrangement) -> tuple[tuple[tuple[tuple[str, tuple[int, int]], ...], ...], ...]:
    """Return, for each heater box, every order of its terminals over its seats that the jumper allows."""
    found = []
    for box in made.boxes:
        letters, seats = zip(*box.seats, strict=True)
        orders = [tuple(zip(order, seats, strict=True)) for order in permutations(letters)]
        found.append(tuple(order for order in orders if _jumper_fits(made, dict(order))))
    return tuple(found)


def _jumper_fits(made: Arrangement, order: dict[str, tuple[int, int]]) -> bool:
    ends = [order[letter] for letter in made.jumper if letter in order]
    return len(ends) < 2 or _neighbors(ends[0], ends[1])


def _turned(box: HeaterBox, seat: tuple[int, int], *, mirrored: bool, turned: bool) -> tuple[int, int]:
    columns, rows = ([place[axis] for _, place in box.seats] for axis in (0, 1))
    column, row = seat
    if mirrored:
        column = min(columns) + max(columns) - column
    if turned:
        row = min(rows) + max(rows) - row
    return column, row


def _drawn_marks(made: Arrangement, stream: Stream) -> tuple[Mark, ...]:
    taken: dict[str, set[Mark]] = {}
    found = []
    for wire in made.wires:
        if wire.mark.tone == "bare" or wire.mark == NEUTRAL:
            found.append(wire.mark)
            continue
        parts = [end.partition(".")[0] for end in (wire.a, wire.b) if end not in BLOCK]
        used = set().union(*(taken.setdefault(part, set()) for part in parts))
        mark = stream.choose([mark for mark in MARKS if mark not in used])
        for part in parts:
            taken[part].add(mark)
        found.append(mark)
    return tuple(found)


def _seated(
    made: Arrangement, orders: tuple[int, ...], *, mirrored: bool, turned: bool, swapped: bool
) -> dict[str, Seat]:
    seats = {}
    for number, (box, possible, order) in enumerate(zip(made.boxes, seat_orders(made), orders, strict=True)):
        where = len(made.boxes) - 1 - number if swapped else number
        for letter, place in possible[order]:
            column, row = _turned(box, place, mirrored=mirrored, turned=turned)
            seats[f"Box.{letter}"] = Seat(where, row, column)
    return seats


def drawn_placement(made: Arrangement, stream: Stream) -> Placement:
    """Return the places of a machine of one's own, drawn from ``stream``."""
    orders = tuple(stream.integer(0, len(possible) - 1) for possible in seat_orders(made))
    sway = {word: bool(stream.integer(0, 1)) for word in ("mirror left-right", "turn upside down", "swap boxes")}
    mirrored, turned, swapped = (sway[word] and word in made.may for word in sway)
    seats = _seated(made, orders, mirrored=mirrored, turned=turned, swapped=swapped)
    return Placement(made, seats, _drawn_marks(made, stream), mirrored, turned, swapped)


def plain_placement(made: Arrangement) -> Placement:
    """Return the places as the file has them: for a first lesson, and for pictures that must not change."""
    seats = {
        f"Box.{letter}": Seat(number, row, column)
        for number, box in enumerate(made.boxes)
        for letter, (column, row) in box.seats
    }
    return Placement(made, seats, tuple(wire.mark for wire in made.wires))
