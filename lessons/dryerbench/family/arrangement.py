"""An arrangement: which parts a dryer has, how its harness joins them, where they stand, what its sheet promises."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from dryerbench.family.kinds import HEATS, Component

BLOCK = ("L1", "L2", "N")
CABINET, EARTH = "G", "E"
"""The cabinet's bare metal and the earth outside, as the sheets call them."""
SWAY = ("mirror left-right", "turn upside down", "swap boxes")


@dataclass(frozen=True, slots=True)
class Mark:
    """What tells one wire from another: a tone and a tracer, such as brass dash."""

    tone: str
    tracer: str

    def __str__(self) -> str:
        return f"{self.tone} {self.tracer}"


@dataclass(frozen=True, slots=True)
class Wire:
    """A wire of the harness, from terminal to terminal."""

    a: str
    b: str
    mark: Mark

    @property
    def name(self) -> str:
        """What the circuit calls it."""
        return f"wire {self.a}-{self.b}"


@dataclass(frozen=True, slots=True)
class Coil:
    """A heater coil between two box terminals, cold Ω."""

    a: str
    b: str
    ohms: float

    @property
    def name(self) -> str:
        """What the circuit calls it, such as ``coil p-q``."""
        return f"coil {self.a}-{self.b}"

    @property
    def ends(self) -> tuple[str, str]:
        """Its two points, such as ``Box.p`` and ``Box.q``."""
        return f"Box.{self.a}", f"Box.{self.b}"


@dataclass(frozen=True, slots=True)
class Expectation:
    """A value that the sheet promises: between two points, the amps at one, or the heat in watts, in a state."""

    what: str
    places: tuple[str, ...]
    state: str
    value: str
    line: int = 0

    def __str__(self) -> str:
        where = " to ".join(self.places) if self.what == "between" else " at ".join((self.what, *self.places))
        return f"{where}, {self.state}: {self.value}"


@dataclass(frozen=True, slots=True)
class Power:
    """The watts and amps of one heat on one supply, as the plate has them."""

    heat: str
    supply_volts: int
    watts: str
    amps: str


@dataclass(frozen=True, slots=True)
class StillHot:
    """What is hot when it is off: at the heater or the windings, in a state, which legs (or nothing)."""

    where: str
    state: str
    legs: str


@dataclass(frozen=True, slots=True)
class Cover:
    """A cover: its screws by head, what must come off before it, what it bares, and how it comes off."""

    name: str
    screws: tuple[tuple[int, str], ...]
    after: str
    bares: tuple[str, ...]
    how: str


@dataclass(frozen=True, slots=True)
class HeaterBox:
    """A heater box: where it stands, from where its terminals are seen, and the seat (column, row) of each."""

    stands: str
    seen_from: str
    seats: tuple[tuple[str, tuple[int, int]], ...]


@dataclass(frozen=True, slots=True)
class Air:
    """Air and rise: good cfm, °F after the coil in it, and the cfm under which limit and cut-off open."""

    cfm: float
    after_coil: float
    limit_under: float
    cutoff_under: float


Step = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Way:
    """One way of the current in words: steps of points, coils (``p coil q``) and parts beside each other."""

    title: str
    steps: tuple[Step, ...]
    line: int


@dataclass(frozen=True, eq=False)
class Arrangement:
    """One dryer of the family, as its file tells it."""

    name: str
    idea: str
    made_for: int
    cord: str
    service: str
    heats: tuple[str, ...]
    beside: str
    parts: tuple[Component, ...]
    coils: tuple[Coil, ...]
    wires: tuple[Wire, ...]
    ways: tuple[Way, ...]
    sheet: tuple[Expectation, ...]
    worked_out: tuple[Expectation, ...]
    power: tuple[Power, ...]
    legs: tuple[tuple[str, str], ...]
    worst_leg: str
    still_hot: tuple[StillHot, ...]
    air: Air
    set_points: tuple[int, ...]
    covers: tuple[Cover, ...]
    stands: tuple[tuple[str, str], ...]
    boxes: tuple[HeaterBox, ...]
    may: tuple[str, ...]
    jumper: tuple[str, ...]
    trap: str

    @cached_property
    def by_name(self) -> dict[str, Component]:
        """The parts by name."""
        return {part.name: part for part in self.parts}

    def of_kind(self, *kinds: str) -> tuple[Component, ...]:
        """Return the parts of these kinds, in the order of the file."""
        return tuple(part for part in self.parts if part.kind.name in kinds)

    @property
    def motor(self) -> Component:
        """The drum's motor."""
        return self.of_kind("motor")[0]

    @property
    def board(self) -> bool:
        """Whether a board runs it; else a dial does."""
        return bool(self.of_kind("board"))

    @cached_property
    def box_terminals(self) -> tuple[str, ...]:
        """The points of the heater boxes, such as ``Box.p``, in the order of their letters."""
        return tuple(sorted({end for coil in self.coils for end in coil.ends}))

    @cached_property
    def shared(self) -> str:
        """The box terminal on which several coils end, or nothing."""
        ends = [end for coil in self.coils for end in coil.ends]
        return next((end for end in ends if ends.count(end) > 1), "")

    @cached_property
    def points(self) -> tuple[str, ...]:
        """Every point that probes can reach: block, cabinet, and all terminals, in the order of the file."""
        found = dict.fromkeys((*BLOCK, CABINET))
        found.update(dict.fromkeys(terminal for part in self.parts for terminal in self.present(part)))
        found.update(dict.fromkeys(self.box_terminals))
        return tuple(found)

    def present(self, part: Component) -> tuple[str, ...]:
        """Return the terminals of ``part`` that this machine has: of a board only those with a wire."""
        used = {end for wire in self.wires for end in (wire.a, wire.b)}
        return tuple(t for t in part.terminals if part.kind.name != "board" or t in used)

    def wire(self, name: str) -> Wire:
        """Return the wire that the circuit calls ``name``.

        Raises
        ------
        KeyError
            If there is none.
        """
        return {wire.name: wire for wire in self.wires}[name]

    def wires_at(self, point: str) -> tuple[Wire, ...]:
        """Return the wires that end at ``point``."""
        return tuple(wire for wire in self.wires if point in (wire.a, wire.b))

    @cached_property
    def net(self) -> dict[str, str]:
        """Which points the harness joins: one name for all points that wires alone put together."""
        return _joined(self.points, ((wire.a, wire.b) for wire in self.wires))

    @cached_property
    def switched(self) -> bool:
        """Whether some heats differ in what is switched on."""
        return len(self.heats) > 1


def _joined(points: Iterable[str], pairs: Iterable[tuple[str, str]]) -> dict[str, str]:
    root = {point: point for point in points}

    def find(point: str) -> str:
        while root[point] != point:
            point = root[point]
        return point

    for a, b in pairs:
        root[find(a)] = find(b)
    return {point: find(point) for point in root}


def heats_in_order(found: Iterable[str]) -> tuple[str, ...]:
    """Return the heats among ``found``, the strongest first."""
    there = set(found)
    return tuple(heat for heat in HEATS if heat in there)
