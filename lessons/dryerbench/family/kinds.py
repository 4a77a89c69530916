"""The kinds of parts that a dryer of this family may have: terminals, contacts, and what a line must say of each."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field, replace

from dryerbench.family.lines import Line

POSITIONS = ("off", "air", "high", "mid", "low")
"""Where a dial may stand: off, air without heat, and the heats, the strongest first."""
HEATS = POSITIONS[2:]
_UNITS = {"ohm": 1.0, "kohm": 1e3, "Mohm": 1e6}


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of part: its terminals, the pairs that its contacts join, what a line must and may say of it.

    ``feels`` says whose air it stands in: ``exhaust``, ``box`` or nothing.
    """

    name: str
    terminals: tuple[str, ...] = ("1", "2")
    throws: tuple[tuple[str, str], ...] = (("1", "2"),)
    must: frozenset[str] = frozenset()
    may: frozenset[str] = frozenset()
    feels: str = ""


def _kind(
    name: str, terminals: str = "1 2", throws: str = "1-2", must: str = "", may: str = "", feels: str = ""
) -> Kind:
    pairs = [tuple(pair.split("-")) for pair in throws.split()]
    return Kind(
        name,
        tuple(terminals.split()),
        tuple((a, b) for a, b in pairs),
        frozenset(must.split()),
        frozenset(may.split()),
        feels,
    )


KINDS = {
    kind.name: kind
    for kind in (
        _kind("heat contact", must="on"),
        _kind("run contact", must="on"),
        _kind("coil contact", must="on"),
        _kind("bias contact", must="on"),
        _kind("selector contact", must="on"),
        _kind("selector changeover", "1 2 3", "1-2 1-3", must="on"),
        _kind("heat relay", must="on"),
        _kind("changeover relay", "1 2 3", "1-2 1-3", must="on"),
        _kind("follower relay", must="follows"),
        _kind("relay coil", throws="", must="ohms"),
        _kind("motor relay"),
        _kind("cycling thermostat", must="opens closes", feels="exhaust"),
        _kind("low thermostat", must="opens closes", feels="exhaust"),
        _kind("high limit", must="opens closes", feels="box"),
        _kind("cut-off", must="opens", feels="box"),
        _kind("manual cut-off", must="opens", feels="box"),
        _kind("thermal fuse", must="opens", feels="exhaust"),
        _kind("door switch"),
        _kind("door switch with light", "1 2 3", "1-2 1-3"),
        _kind("start switch"),
        _kind("hold contact"),
        _kind("motor contact"),
        _kind("belt switch"),
        _kind("bias heater", throws="", must="ohms"),
        _kind("dial motor", throws="", must="ohms"),
        _kind("lamp", throws="", must="ohms"),
        _kind("board", "L N s1 s2 s3", "", must="ohms", may="input common"),
        _kind("splice", "1", ""),
        _kind("exhaust sensor", throws="", must="ohms beta", feels="exhaust"),
        _kind("inlet sensor", throws="", must="ohms beta", feels="box"),
        _kind("motor", "r s c", "", must="run start", may="rotor leakage magnetizing"),
    )
}
ONE_SHOT = ("cut-off", "manual cut-off", "thermal fuse")
DIAL_CONTACTS = ("heat contact", "run contact")
SELECTOR_CONTACTS = ("selector contact", "coil contact", "bias contact", "selector changeover")
RELAYS = ("heat relay", "changeover relay", "follower relay", "motor relay")


@dataclass(frozen=True, slots=True)
class Component:
    """One part of an arrangement: its name and kind, and what the file says of it.

    ``numbers`` in Ω, K (``beta``), H (``leakage``, ``magnetizing``) and °F (``opens``, ``closes``); ``on`` are the
    positions in which a contact is closed (a changeover: joins 1 to 2); ``follows`` names the coil that pulls it in.
    """

    name: str
    kind: Kind
    numbers: dict[str, float] = field(default_factory=dict, hash=False)
    on: tuple[str, ...] = ()
    follows: str = ""

    @property
    def terminals(self) -> tuple[str, ...]:
        """The points of this part, such as ``Cut.1``."""
        return tuple(f"{self.name}.{terminal}" for terminal in self.kind.terminals)

    @property
    def contacts(self) -> tuple[tuple[str, str, str], ...]:
        """Name and two points of each contact; of a changeover there are two, named ``Sel to 2`` and ``Sel to 3``."""
        several = len(self.kind.throws) > 1
        return tuple(
            (f"{self.name} to {b}" if several else self.name, f"{self.name}.{a}", f"{self.name}.{b}")
            for a, b in self.kind.throws
        )


def _positions(text: str, line: Line) -> tuple[str, ...]:
    found = tuple(text.split())
    strange = [word for word in found if word not in POSITIONS]
    if strange:
        raise line.wrong(f"'{strange[0]}' is no position; the positions are {', '.join(POSITIONS)}.")
    return found


def _ohms(number: str, unit: str) -> float:
    return float(number) * _UNITS[unit]


_Reader = Callable[[Component, re.Match[str], Line], Component]


def _number(key: str, factor: float = 1.0) -> _Reader:
    return lambda part, found, line: replace(part, numbers=part.numbers | {key: float(found[1]) * factor})


def _resistance(key: str) -> _Reader:
    return lambda part, found, line: replace(part, numbers=part.numbers | {key: _ohms(found[1], found[2])})


_N = r"(\d+(?:\.\d+)?)"
_OHMS = rf"{_N} (ohm|kohm|Mohm)"
_ITEMS: dict[str, tuple[str, _Reader]] = {
    "ohms": (rf"{_OHMS}(?: at 77 F)?", _resistance("ohms")),
    "opens": (rf"opens {_N} F", _number("opens")),
    "closes": (rf"closes {_N} F", _number("closes")),
    "beta": (rf"beta {_N} K", _number("beta")),
    "run": (rf"run {_OHMS}", _resistance("run")),
    "start": (rf"start {_OHMS}", _resistance("start")),
    "rotor": (rf"rotor {_OHMS}", _resistance("rotor")),
    "input": (rf"input {_OHMS}", _resistance("input")),
    "common": (rf"common {_OHMS}", _resistance("common")),
    "leakage": (rf"leakage {_N} mH", _number("leakage", 1e-3)),
    "magnetizing": (rf"magnetizing {_N} mH", _number("magnetizing", 1e-3)),
    "on": (r"on ([a-z ]+)", lambda part, found, line: replace(part, on=_positions(found[1], line))),
    "follows": (r"follows (\w+)", lambda part, found, line: replace(part, follows=found[1])),
}


def read_component(line: Line) -> Component:
    """Return the part that a line such as ``part: Cut, cut-off, opens 322 F`` describes.

    Raises
    ------
    FamilyFileError
        For an unknown kind, a detail that the kind does not have, or one that is missing.
    """
    name, *rest = line.items()
    if not re.fullmatch(r"[A-Z][A-Za-z]*", name):
        raise line.wrong(f"'{name}' is no name of a part: write letters, the first one a capital.")
    if not rest or rest[0] not in KINDS:
        raise line.wrong(f"'{rest[0] if rest else ''}' is no kind of part; the kinds are {', '.join(KINDS)}.")
    part, told = Component(name, KINDS[rest[0]]), set()
    for item in rest[1:]:
        key, part = _read_item(part, item, line)
        if key in told:
            raise line.wrong(f"'{item}' says a thing of {name} a second time.")
        told.add(key)
    missing = sorted(part.kind.must - told)
    if missing:
        raise line.wrong(f"a {part.kind.name} needs its {missing[0]}, and {name} does not say it.")
    if part.numbers.get("closes", 0.0) >= part.numbers.get("opens", 1e9):
        raise line.wrong(f"{name} must close again below the temperature at which it opens.")
    return part


def _read_item(part: Component, item: str, line: Line) -> tuple[str, Component]:
    for key in (*part.kind.must, *part.kind.may):
        pattern, reader = _ITEMS[key]
        found = re.fullmatch(pattern, item)
        if found:
            return key, reader(part, found, line)
    raise line.wrong(f"'{item}' says nothing that a {part.kind.name} has.")
