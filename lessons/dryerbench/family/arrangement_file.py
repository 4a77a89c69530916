"""A machine's file read: every line has one form, every name must exist, and the ways must follow the wires."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field

from dryerbench.family.arrangement import (
    BLOCK,
    CABINET,
    EARTH,
    SWAY,
    Air,
    Arrangement,
    Coil,
    Cover,
    Expectation,
    HeaterBox,
    Mark,
    Power,
    StillHot,
    Way,
    Wire,
    heats_in_order,
)
from dryerbench.family.kinds import HEATS, read_component
from dryerbench.family.lines import Line, read_lines
from dryerbench.family.ways import follow

ONCE = ("machine", "idea", "made for", "cord", "service", "heats", "harness beside", "air", "worst leg", "legs", "trap")
SELDOM = ("set points", "jumper", "may")
MANY = (
    "part", "coil", "way", "wire", "sheet", "worked out", "power", "still hot", "cover", "stands", "box",
)  # fmt: skip
TONES, TRACERS = ("white", "brass", "slate", "black"), ("plain", "dash", "ring")
SERVICES = ("front", "rear", "both sides")
SCREWS = ("hex", "Ph", "sq", "qt")
_N = r"(\d+(?:\.\d+)?)"


@dataclass
class _File:
    """The lines of a file by key, with what they were read into as far as that is done."""

    lines: dict[str, list[Line]] = field(default_factory=dict)

    def one(self, key: str) -> Line:
        return self.lines[key][0]

    def many(self, key: str) -> list[Line]:
        return self.lines.get(key, [])


def _match(line: Line, pattern: str, form: str) -> re.Match[str]:
    found = re.fullmatch(pattern, line.words)
    if found is None:
        raise line.wrong(f"'{line.words}' cannot be read; write it as in: {line.key}: {form}")
    return found


def _one_of(line: Line, words: str, allowed: Iterable[str]) -> str:
    there = tuple(allowed)
    if words not in there:
        raise line.wrong(f"'{words}' is none of {', '.join(there)}.")
    return words


def _collect(file: str, text: str) -> _File:
    found = _File()
    last = None
    for line in read_lines(file, text, (*ONCE, *SELDOM, *MANY)):
        if line.key not in MANY and line.key in found.lines:
            raise line.wrong(f"a second line '{line.key}'; the first is line {found.one(line.key).number}.")
        found.lines.setdefault(line.key, []).append(line)
        last = line
    if last is None:
        raise Line(file, 1, "", "").wrong("the file says nothing.")
    for key in (*ONCE, "part", "coil", "wire", "way", "box", "cover", "power", "sheet"):
        if key not in found.lines:
            raise last.wrong(f"the file ends without a line '{key}'.")
    return found


# --- single lines ------------------------------------------------------------------------------------------------


def _coil(line: Line) -> Coil:
    found = _match(line, rf"([a-z]) to ([a-z]), {_N} ohm", "p to q, 10.6 ohm")
    if found[1] == found[2] or float(found[3]) <= 0:
        raise line.wrong("a coil has two ends and more than 0 ohm.")
    return Coil(found[1], found[2], float(found[3]))


def _wire(line: Line) -> Wire:
    found = _match(line, r"(\S+) to ([^\s,]+), (\w+) (\w+)", "Cut.2 to Cen.1, black ring")
    if (found[3], found[4]) == ("bare", "strap"):
        return Wire(found[1], found[2], Mark("bare", "strap"))
    return Wire(found[1], found[2], Mark(_one_of(line, found[3], TONES), _one_of(line, found[4], TRACERS)))


def _way(line: Line) -> Way:
    title, comma, rest = line.words.partition(", ")
    steps = tuple(tuple(step.strip().split(" beside ")) for step in rest.split(" - "))
    if not comma or len(steps) < 2:
        raise line.wrong("a way has a title, a comma, and at least two steps with ' - ' between them.")
    return Way(title, steps, line.number)


def _expectation(line: Line) -> Expectation:
    found = _match(line, r"(.+?), (.+): (.+)", "Box.p to Box.q, off: 10.6 ohm")
    value = found[3]
    if not re.fullmatch(rf"OL|{_N} (?:ohm|kohm|Mohm|V|A|W)", value):
        raise line.wrong(f"'{value}' is no reading: write OL, or a number and ohm, kohm, Mohm, V, A or W.")
    where = re.fullmatch(r"(\S+) to (\S+)|amps at (\S+)|heat", found[1])
    if where is None:
        raise line.wrong(f"'{found[1]}' is no place: write two points with 'to' between, amps at L1, or heat.")
    if where[1]:
        return Expectation("between", (where[1], where[2]), found[2], value, line.number)
    if where[3]:
        return Expectation("amps", (_one_of(line, where[3], BLOCK),), found[2], value, line.number)
    return Expectation("heat", (), found[2], value, line.number)


def _power(line: Line) -> Power:
    found = _match(line, rf"(\w+) on (240|208) V, {_N} W, {_N} A", "high on 240 V, 5434 W, 22.6 A")
    return Power(_one_of(line, found[1], HEATS), int(found[2]), f"{found[3]} W", f"{found[4]} A")


def _still_hot(line: Line) -> StillHot:
    found = _match(line, r"(heater|windings), (.+): (nothing|leg 1|leg 2|leg 1 \+ leg 2)", "heater, run air: leg 2")
    return StillHot(found[1], found[2], found[3])


def _air(line: Line) -> Air:
    form = "150 cfm, after coil 184 F, limit under 102 cfm, cut-off under 68 cfm"
    found = _match(line, rf"{_N} cfm, after coil {_N} F, limit under {_N} cfm, cut-off under {_N} cfm", form)
    return Air(*(float(found[group]) for group in range(1, 5)))


def _legs(line: Line) -> tuple[tuple[str, str], ...]:
    found = _match(line, rf"L1 {_N} A, L2 {_N} A, N {_N} A", "L1 26.2 A, L2 22.6 A, N 4.4 A")
    return tuple((leg, f"{found[place]} A") for place, leg in enumerate(BLOCK, start=1))


def _cover(line: Line, names: set[str]) -> Cover:
    name, screws, *rest = line.items()
    heads = re.findall(r"(\d+) (\w+)", screws)
    if not heads or " and ".join(f"{count} {head}" for count, head in heads) != screws:
        raise line.wrong(f"'{screws}' are no screws: write, for instance, 4 hex, or 3 sq and 2 qt.")
    after, how = "", ""
    bares: tuple[str, ...] = ()
    for item in rest:
        word, _, words = item.partition(" ")
        if word == "after":
            after = words
        elif word == "bares":
            bares = tuple(words.split())
        elif word == "how":
            how = words
        else:
            raise line.wrong(f"'{item}' must start with after, bares or how.")
    for thing in bares:
        _one_of(line, thing, sorted(names))
    return Cover(name, tuple((int(count), _one_of(line, head, SCREWS)) for count, head in heads), after, bares, how)


def _box(line: Line) -> HeaterBox:
    found = _match(line, r"([a-z ]+), from the ([a-z]+), seats (.+)", "base left, from the front, seats p 1-1 q 2-1")
    seats = re.findall(r"([a-z]) (\d)-(\d)", found[3])
    if " ".join(f"{letter} {column}-{row}" for letter, column, row in seats) != found[3]:
        raise line.wrong(f"'{found[3]}' are no seats: write a letter and column-row for each, such as p 1-1 q 2-1.")
    return HeaterBox(found[1], found[2], tuple((letter, (int(column), int(row))) for letter, column, row in seats))


# --- the whole file ----------------------------------------------------------------------------------------------


def read_arrangement(file: str, text: str) -> Arrangement:
    """Return the arrangement that the text of ``file`` describes.

    Raises
    ------
    FamilyFileError
        For a line that cannot be read, a name that does not exist, a terminal without a wire, or a way that the
        wires do not go; the text names file and line.
    """
    found = _collect(file, text)
    parts = tuple(read_component(line) for line in found.many("part"))
    _no_twins(found.many("part"), [part.name for part in parts])
    coils = tuple(_coil(line) for line in found.many("coil"))
    wires = tuple(_wire(line) for line in found.many("wire"))
    names = {part.name for part in parts} | {"block", "Box"} | {end for coil in coils for end in coil.ends}
    made = Arrangement(
        name=found.one("machine").words,
        idea=found.one("idea").words,
        made_for=int(_match(found.one("made for"), "(240|208) V", "240 V")[1]),
        cord=_one_of(found.one("cord"), found.one("cord").words, ("three-wire", "four-wire")),
        service=_one_of(found.one("service"), found.one("service").words, SERVICES),
        heats=heats_in_order(_one_of(found.one("heats"), heat, HEATS) for heat in found.one("heats").items()),
        beside=found.one("harness beside").words,
        parts=parts,
        coils=coils,
        wires=wires,
        ways=tuple(_way(line) for line in found.many("way")),
        sheet=tuple(_expectation(line) for line in found.many("sheet")),
        worked_out=tuple(_expectation(line) for line in found.many("worked out")),
        power=tuple(_power(line) for line in found.many("power")),
        legs=_legs(found.one("legs")),
        worst_leg=_match(found.one("worst leg"), rf"{_N} A", "27.4 A")[0],
        still_hot=tuple(_still_hot(line) for line in found.many("still hot")),
        air=_air(found.one("air")),
        set_points=tuple(int(_match_item(line, item)) for line in found.many("set points") for item in line.items()),
        covers=tuple(_cover(line, names) for line in found.many("cover")),
        stands=tuple(_stands(found.many("stands"), names)),
        boxes=tuple(_box(line) for line in found.many("box")),
        may=tuple(_one_of(line, item, SWAY) for line in found.many("may") for item in line.items()),
        jumper=tuple(word for line in found.many("jumper") for word in line.words.split()),
        trap=found.one("trap").words,
    )
    for check in _CHECKS:
        check(found, made)
    return made


def _match_item(line: Line, item: str) -> str:
    number = re.fullmatch(r"(\d+) F", item)
    if number is None:
        raise line.wrong(f"'{item}' is no set point: write, for instance, 135 F.")
    return number[1]


def _no_twins(lines: list[Line], names: list[str]) -> None:
    for line, name in zip(lines, names, strict=True):
        if names.index(name) != lines.index(line):
            raise line.wrong(f"'{name}' is in the file twice.")


def _stands(lines: list[Line], names: set[str]) -> Iterator[tuple[str, str]]:
    for line in lines:
        spot, comma, there = line.words.partition(", ")
        if not comma:
            raise line.wrong("write the place, a comma, and the parts that are there.")
        for name in there.split():
            yield _one_of(line, name, sorted(names)), spot


def _check_wires(found: _File, made: Arrangement) -> None:
    known = {*BLOCK, CABINET, *made.box_terminals, *(t for part in made.parts for t in part.terminals)}
    for line, wire in zip(found.many("wire"), made.wires, strict=True):
        for end in (wire.a, wire.b):
            if end not in known:
                raise line.wrong(f"there is no terminal '{end}' on this dryer.")
        if wire.mark.tone != "bare" and (str(wire.mark) == "white plain") != ("N" in (wire.a, wire.b)):
            raise line.wrong("white plain is the mark of a neutral, of every neutral and of nothing else.")
    _no_twins(found.many("wire"), [wire.name for wire in made.wires])


def _check_parts(found: _File, made: Arrangement) -> None:
    used = {end for wire in made.wires for end in (wire.a, wire.b)}
    for line, part in zip(found.many("part"), made.parts, strict=True):
        bare = [t for t in part.terminals if t not in used and part.kind.name not in ("board", "motor")]
        if bare:
            raise line.wrong(f"no wire goes to {bare[0]}.")
        if part.follows and part.follows not in {one.name for one in made.of_kind("relay coil")}:
            raise line.wrong(f"{part.name} follows '{part.follows}', which is no relay coil of this dryer.")
    if (made.cord == "three-wire") != any(wire.mark.tone == "bare" for wire in made.wires):
        raise found.one("cord").wrong("a three-wire dryer has a strap, N to G, bare strap; a four-wire one has none.")
    if len(made.of_kind("motor")) != 1:
        raise found.one("machine").wrong("a dryer has one motor.")
    if made.beside not in made.points:
        raise found.one("harness beside").wrong(f"there is no terminal '{made.beside}' on this dryer.")


def _check_ways(found: _File, made: Arrangement) -> None:
    for line, way in zip(found.many("way"), made.ways, strict=True):
        trouble = follow(made, way)
        if trouble:
            raise line.wrong(trouble)


def _check_expectations(found: _File, made: Arrangement) -> None:
    known = {*made.points, EARTH, *(f"{made.motor.name}.{end}" for end in "rsc")}
    for key, group in (("sheet", made.sheet), ("worked out", made.worked_out)):
        for line, one in zip(found.many(key), group, strict=False):
            for place in one.places:
                if place not in known:
                    raise line.wrong(f"there is no point '{place}' on this dryer.")


def _check_covers(found: _File, made: Arrangement) -> None:
    bared = [thing for cover in made.covers for thing in cover.bares]
    ends = set(made.box_terminals)
    if "Box" in bared:
        bared = [thing for thing in bared if thing != "Box"] + sorted(ends)
    own = [part.name for part in made.parts if part.kind.name != "splice" or part.name in bared]
    need = [*own, "block", *made.box_terminals]
    for thing in need:
        if bared.count(thing) != 1:
            raise found.many("cover")[-1].wrong(f"{thing} must be bared by one cover, not by {bared.count(thing)}.")
    names = [cover.name for cover in made.covers]
    for line, cover in zip(found.many("cover"), made.covers, strict=True):
        if cover.after and cover.after not in names[: names.index(cover.name)]:
            raise line.wrong(f"'{cover.after}' is no cover above this line.")


def _check_places(found: _File, made: Arrangement) -> None:
    ends = set(made.box_terminals)
    standing = [name for name, _ in made.stands]
    for part in made.parts:
        if standing.count(part.name) != 1:
            raise found.one("machine").wrong(f"one line 'stands' must say where {part.name} stands.")
    seats = [f"Box.{letter}" for box in made.boxes for letter, _ in box.seats]
    if sorted(seats) != sorted(made.box_terminals):
        raise found.many("box")[-1].wrong("every terminal of the heater box needs one seat.")
    for line in found.many("jumper"):
        if not {f"Box.{letter}" for letter in made.jumper} <= ends:
            raise line.wrong(f"'{line.words}' are no terminals of the heater box.")


_CHECKS: tuple[Callable[[_File, Arrangement], None], ...] = (
    _check_wires,
    _check_parts,
    _check_ways,
    _check_expectations,
    _check_covers,
    _check_places,
)
