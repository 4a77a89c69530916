"""On what a fault can hang: parts of a kind, coils, wires at the heater box, screws of the block, the machine."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from dryerbench.family.arrangement import BLOCK, Arrangement, Wire
from dryerbench.family.kinds import KINDS

_BULB = 1000.0  # Ω: a lamp of fewer has a wire that can burn out


@dataclass(frozen=True, slots=True)
class Target:
    """What one fault hangs on: its name, the name of the circuit's part, and its points in order."""

    name: str
    part: str
    points: tuple[str, ...]


def _wire_target(wire: Wire, last: str) -> Target:
    ends = (wire.a, wire.b) if wire.b == last else (wire.b, wire.a)
    return Target(wire.name.removeprefix("wire "), wire.name, ends)


def _coils(made: Arrangement) -> Iterator[Target]:
    for coil in made.coils:
        yield Target(f"{coil.a}-{coil.b}", coil.name, coil.ends)


def jumpers(made: Arrangement) -> tuple[Wire, ...]:
    """Return the wires from one terminal of the heater box to another."""
    box = set(made.box_terminals)
    return tuple(wire for wire in made.wires if {wire.a, wire.b} <= box)


def _heater_leads(made: Arrangement) -> Iterator[Target]:
    box = set(made.box_terminals)
    for wire in made.wires:
        if wire not in jumpers(made) and box & {wire.a, wire.b}:
            yield _wire_target(wire, wire.b if wire.b in box else wire.a)


def _splice_leads(made: Arrangement) -> Iterator[Target]:
    for splice in made.of_kind("splice"):
        for wire in made.wires_at(splice.terminals[0]):
            yield _wire_target(wire, splice.terminals[0])


def _shared(made: Arrangement) -> Iterator[Target]:
    if made.shared and swapped_leads(made) is not None:
        wire = made.wires_at(made.shared)[0]
        yield _wire_target(wire, made.shared)


def swapped_leads(made: Arrangement) -> tuple[Wire, Wire] | None:
    """Return the shared terminal's wire and the first plain end wire: the two that a repair mixes up."""
    joined = {end for wire in jumpers(made) for end in (wire.a, wire.b)}
    others = [end for end in made.box_terminals if end != made.shared and end not in joined]
    if not made.shared or not others:
        return None
    return made.wires_at(made.shared)[0], made.wires_at(others[0])[0]


def _special(made: Arrangement, where: str) -> Iterator[Target]:
    if where == "machine":
        yield Target("", "", ())
    elif where == "jumper":
        for wire in jumpers(made):
            yield Target(wire.name.removeprefix("wire "), wire.name, (wire.a, wire.b))
    elif where == "block screw":
        for slot, block in zip("12N", BLOCK, strict=True):
            yield Target(block, f"cord {slot}", (f"plug-{slot}", block))
    elif where == "plug blade":
        for slot, block in zip("12N", BLOCK, strict=True):
            yield Target(block, f"plug blade {slot}", (f"outlet-{slot}", f"plug-{slot}"))


_OTHERS: dict[str, Callable[[Arrangement], Iterator[Target]]] = {
    "coil": _coils,
    "heater lead": _heater_leads,
    "splice lead": _splice_leads,
    "shared terminal": _shared,
}
WHERE_ELSE = (*_OTHERS, "machine", "jumper", "block screw", "plug blade")


def is_target(where: str) -> bool:
    """Return whether faults can hang on ``where``."""
    return where in KINDS or where in WHERE_ELSE


def targets(made: Arrangement, where: str) -> Iterator[Target]:
    """Yield everything of ``made`` that faults on ``where`` (a kind of part, or one of ``WHERE_ELSE``) hang on."""
    if where in _OTHERS:
        yield from _OTHERS[where](made)
    elif where not in KINDS:
        yield from _special(made, where)
    for part in made.of_kind(where):
        first = part.contacts[0][0] if part.contacts else part.name
        points = made.present(part) if where == "board" else part.terminals
        yield Target(part.name, "board supply" if where == "board" else first, points)


CONDITIONS: dict[str, Callable[[Arrangement], bool]] = {
    "one coil": lambda made: len(made.coils) == 1,
    "several coils": lambda made: len(made.coils) > 1,
    "one limit": lambda made: len(made.of_kind("high limit")) == 1,
    "two limits": lambda made: len(made.of_kind("high limit")) > 1,
    "made for 208 V": lambda made: made.made_for == 208,
    "made for 240 V": lambda made: made.made_for == 240,
    "three-wire": lambda made: made.cord == "three-wire",
    "four-wire": lambda made: made.cord == "four-wire",
    "board relay": lambda made: bool(made.of_kind("heat relay")),
    "no board relay": lambda made: not made.of_kind("heat relay"),
    "no belt switch": lambda made: not made.of_kind("belt switch"),
    "bulb": lambda made: any(lamp.numbers["ohms"] < _BULB for lamp in made.of_kind("lamp")),
}
"""What a machine must be for a fault to be possible, by the words of a line ``where``."""
