"""A circuit as text that reads like speech, one part a line: its parts, its nodes, its changes.

A line is ``element 1: resistance from T1 to T0, 27 ohm``. A contact says whether it is closed:
``high limit: contact from H7 to H8, closed, 0.01 ohm``. A source has volts and degrees:
``leg 2: source from service-N to service-2, 120 V at 180 deg``. A line that starts with # is a remark.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TypedDict, Unpack

from dryerbench.core.errors import LegToLegError

UNITS = {
    "source": "V",
    "resistance": "ohm",
    "capacitance": "F",
    "inductance": "H",
    "contact": "ohm",
    "wire": "ohm",
}
_LINE = re.compile(r"(?P<name>[^:]+): (?P<kind>\w+) from (?P<a>\S+) to (?P<b>\S+), (?P<rest>.+)")
_REST = re.compile(
    r"(?:(?P<state>open|closed), )?(?P<value>[-+.\deE]+) (?P<unit>ohm|V|F|H)(?: at (?P<degrees>[-+.\deE]+) deg)?"
)


class CircuitError(LegToLegError, ValueError):
    """A circuit that cannot be read or has no single solution; the text says which part or node."""


@dataclass(frozen=True, slots=True)
class Part:
    """One part between nodes ``a`` and ``b``; ``value`` in V, Ω, F or H by ``kind``; a contact may be open."""

    name: str
    kind: str
    a: str
    b: str
    value: float
    closed: bool = True
    degrees: float = 0.0

    def __str__(self) -> str:
        rest = f"{self.value!r} {UNITS[self.kind]}"
        if self.kind == "source":
            rest += f" at {self.degrees!r} deg"
        if self.kind in ("contact", "wire"):
            rest = f"{'closed' if self.closed else 'open'}, {rest}"
        return f"{self.name}: {self.kind} from {self.a} to {self.b}, {rest}"


class Topology:
    """The reference node, and kind and ends of each part: what joins what. It is a key of tables, and hashed once."""

    __slots__ = ("_hash", "_nodes", "joins", "reference")

    def __init__(self, reference: str, joins: tuple[tuple[str, str, str], ...]) -> None:
        self.reference, self.joins = reference, joins
        self._hash = hash((reference, joins))
        self._nodes: tuple[str, ...] | None = None

    def __hash__(self) -> int:
        return self._hash

    def __eq__(self, other: object) -> bool:
        if self is other or not isinstance(other, Topology):
            return self is other
        return self._hash == other._hash and (self.reference, self.joins) == (other.reference, other.joins)

    @property
    def nodes(self) -> tuple[str, ...]:
        """The nodes in the order in which the joints name them, without the reference; found once."""
        if self._nodes is None:
            seen = dict.fromkeys(node for _, a, b in self.joins for node in (a, b))
            seen.pop(self.reference, None)
            self._nodes = tuple(seen)
        return self._nodes


@lru_cache(maxsize=4096)
def _the_one(topology: Topology) -> Topology:
    """Return the one object that stands for all equal ones, so that comparing two is comparing their places."""
    return topology


class PartChange(TypedDict, total=False):
    """Fields of a part that may be changed."""

    a: str
    b: str
    value: float
    closed: bool
    degrees: float


class Circuit:
    """Parts by name, in order, and the reference node to which all volts refer."""

    def __init__(self, parts: Iterable[Part], reference: str = "earth") -> None:
        self._parts: dict[str, Part] = {}
        self._topology: Topology | None = None
        self.reference = reference
        for part in parts:
            if part.name in self._parts:
                raise CircuitError(f"Two parts are named '{part.name}': give one of them another name.")
            if part.a == part.b:
                raise CircuitError(f"Both ends of '{part.name}' are at {part.a}: give it two different points.")
            self._parts[part.name] = part

    def __iter__(self) -> Iterator[Part]:
        return iter(self._parts.values())

    def __len__(self) -> int:
        return len(self._parts)

    def __contains__(self, name: object) -> bool:
        return name in self._parts

    def __str__(self) -> str:
        return "\n".join(str(part) for part in self) + "\n"

    @property
    def nodes(self) -> tuple[str, ...]:
        """The nodes in the order in which the parts name them, without the reference."""
        return self.topology.nodes

    @property
    def topology(self) -> Topology:
        """What joins what, without the values: circuits that share it can be factored together."""
        if self._topology is None:
            self._topology = _the_one(Topology(self.reference, tuple([(part.kind, part.a, part.b) for part in self])))
        return self._topology

    def part(self, name: str) -> Part:
        """Return the part ``name``.

        Raises
        ------
        CircuitError
            If the circuit has no such part.
        """
        if name not in self._parts:
            raise CircuitError(f"This circuit has no part named '{name}'.")
        return self._parts[name]

    def changed(self, name: str, **values: Unpack[PartChange]) -> Circuit:
        """Return the circuit with fields of one part changed (``value``, ``closed``, ``a``, ``b``, ``degrees``).

        Raises
        ------
        CircuitError
            If the circuit has no such part.
        """
        part = replace(self.part(name), **values)
        keeps = not values.keys() & {"a", "b", "kind"}
        return self._with({**self._parts, name: part}, self.topology if keeps else None)

    def replaced(self, parts: Iterable[Part]) -> Circuit:
        """Return the circuit with each of ``parts`` in the place of the one of its name, in one step.

        Raises
        ------
        CircuitError
            If the circuit has no part of that name.
        """
        fresh = dict(self._parts)
        keeps = True
        for part in parts:
            old = self.part(part.name)
            keeps = keeps and (old.kind, old.a, old.b) == (part.kind, part.a, part.b)
            fresh[part.name] = part
        return self._with(fresh, self.topology if keeps else None)

    def added(self, *parts: Part) -> Circuit:
        """Return the circuit with ``parts`` at its end.

        Raises
        ------
        CircuitError
            If a name is taken.
        """
        return Circuit([*self, *parts], self.reference)

    def without(self, *names: str) -> Circuit:
        """Return the circuit without the named parts; a name that it lacks is passed over."""
        return self._with({key: part for key, part in self._parts.items() if key not in names})

    def _with(self, parts: dict[str, Part], topology: Topology | None = None) -> Circuit:
        other = Circuit((), self.reference)
        other._parts, other._topology = parts, topology
        return other


def _number(text: str, line: str) -> float:
    try:
        return float(text)
    except ValueError:
        raise CircuitError(f"'{text}' is not a number in the line: {line}") from None


def _part(line: str) -> Part:
    found = _LINE.fullmatch(line)
    rest = _REST.fullmatch(found["rest"]) if found else None
    if found is None or rest is None:
        raise CircuitError(
            f"This line cannot be read: {line}  Write, for instance: coil 1: resistance from T1 to T0, 27 ohm"
        )
    kind = found["kind"]
    if kind not in UNITS:
        raise CircuitError(f"'{kind}' is no kind of part; the kinds are {', '.join(UNITS)}.")
    if rest["unit"] != UNITS[kind]:
        raise CircuitError(f"A {kind} is given in {UNITS[kind]}, not in {rest['unit']}: {line}")
    value = _number(rest["value"], line)
    if value < 0 or (kind == "resistance" and value == 0):
        raise CircuitError(f"A {kind} of {value:g} {rest['unit']} is not possible: {line}")
    return Part(
        name=found["name"].strip(),
        kind=kind,
        a=found["a"],
        b=found["b"],
        value=value,
        closed=rest["state"] != "open",
        degrees=_number(rest["degrees"] or "0", line),
    )


def read_circuit(text: str, reference: str = "earth") -> Circuit:
    """Return the circuit that ``text`` describes, one part a line.

    Raises
    ------
    CircuitError
        For a line that cannot be read; the text repeats it.
    """
    lines = (line.strip() for line in text.splitlines())
    return Circuit([_part(line) for line in lines if line and not line.startswith("#")], reference)
