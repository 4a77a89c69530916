"""What the things of a drawn machine are called on the page, and what they are in the bench: one way out, one way in.

Where a lesson teaches with names, the page has the bench's own. Elsewhere nothing that leaves Python says which
terminal is which: a terminal is its place (``heater box terminal 3``), a wire its mark and its terminal, a part its
kind. An apprentice's own tags stand on the wires. What the page sends back are places, and is read here.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cached_property

from dryerbench.bench.access import behind, pullable, replaceable
from dryerbench.bench.bench import Bench
from dryerbench.bench.placement import placement_of
from dryerbench.bench.reading import ReadingData
from dryerbench.bench.schoolroom import PARTS, family_machine, point_names
from dryerbench.bench.shop_names import CABINET_WORD, CASE, SHOP_NAMES, bench_name, heat_words, mode_words, shop_name
from dryerbench.bench.trail import Act
from dryerbench.bench.worksite import machine_on
from dryerbench.core.errors import LegToLegError
from dryerbench.family.arrangement import CABINET
from dryerbench.family.own_machine import OwnMachine
from dryerbench.machine_view.scene import wire_key
from dryerbench.machine_view.side_view import spoken_view
from dryerbench.machine_view.spots import parts_at, spots_of, views

COIL = "heater coil"
"""What a coil is called where its ends are chosen by their places."""
_BOND = "ground wire"
_SPLICED = re.compile(
    r"\b(?:wire |coil )?[A-Z]\w*\.\w+(?:-[A-Z]\w*(?:\.\w+)?)?|\bcoil \w-\w\b|\bwire \w+-[A-Z]\w*\.\w+"
)


_SHOWN = re.compile(rf"(?<![\w-])(?:{'|'.join(name for name in SHOP_NAMES if ' ' in name or '-' in name)})(?![\w-])")
"""Names in a sentence of the bench that a person reads otherwise."""
_SHOWN_AS = {"mode": mode_words, "heat": heat_words, "where": shop_name, "place": shop_name}
"""The words of those details of an act that are no point, wire or part."""


class NoSuchPlaceError(LegToLegError, LookupError):
    """The page named a place, a wire or a part that the machine does not have."""


def own_machine_of(bench: Bench) -> OwnMachine:
    """Return the machine on ``bench`` with its places, which follow from the machine alone: same card, same places."""
    machine = machine_on(bench)
    return OwnMachine(family_machine(machine), placement_of(machine))


def own_names(bench: Bench, *, named: bool) -> MachineNames:
    """Return the names of the machine on ``bench``, with its places."""
    return MachineNames(bench, own_machine_of(bench), named=named)


class MachineNames:
    """The names of one machine; ``named``: the bench's own names are shown."""

    def __init__(self, bench: Bench, own: OwnMachine, *, named: bool) -> None:
        self.bench, self.own, self.named = bench, own, named
        self.machine = machine_on(bench)
        ours = point_names() if self.machine.stands is None else {CABINET: CASE}
        self.point_at: dict[str, str] = {}
        """The bench's point at each spot of every close-up."""
        self.spots: dict[str, tuple[str, ...]] = {}
        """The spots of each close-up."""
        self._seat: dict[str, str] = {}
        self._terminal: dict[str, str] = {}
        for view in views(own):
            found = spots_of(own, view)
            self.spots[view] = tuple(found)
            for number, (spot, terminal) in enumerate(found.items(), start=1):
                self._terminal[spot] = terminal
                self.point_at[spot] = ours.get(terminal, terminal)
                self._seat[spot] = _seat_words(view, spot, number)
        self.spot_of: dict[str, str] = {}
        """The first spot of each point of the bench."""
        for spot, point in self.point_at.items():
            self.spot_of.setdefault(point, spot)

    # --- out --------------------------------------------------------------------------------------------------

    def at_spot(self, spot: str) -> str:
        """Return what a spot is called."""
        point = self.point_at[spot]
        if self.named or point == CASE:
            return shop_name(point)
        tags = [self.bench.tags[wire] for _, wire in self._wires_at[spot] if wire in self.bench.tags]
        return f"{self._seat[spot]} “{', '.join(tags)}”" if tags else self._seat[spot]

    def of_point(self, point: str) -> str:
        """Return what a point of the bench is called."""
        return shop_name(point) if self.named or point not in self.spot_of else self.at_spot(self.spot_of[point])

    def of_wire(self, wire: str) -> str:
        """Return what a wire is called: its name, or its mark, the first terminal on which it is, and its tag."""
        own = self.bench.tags.get(wire)
        return self._bare(wire) + (f" “{own}”" if own and not self.named else "")

    def _bare(self, wire: str) -> str:
        """Return what a wire is called before it is tagged."""
        token = self._token_of.get(wire)
        if self.named or token is None:
            return wire
        return f"the {self._mark(wire)} wire at {self._seat[token.rpartition('/')[0]]}"

    def of_part(self, part: str) -> str:
        """Return what a part is called: by its kind and its place where names are not shown."""
        if self.named or part in (COIL, _BOND):
            return shop_name(part)
        if part.startswith("coil "):
            return COIL
        if part.startswith("wire "):
            return self.of_wire(part)
        return self._kinds.get(part, shop_name(part).removesuffix("-missing").replace("-", " "))

    def of_act(self, act: Act) -> Act:
        """Return a record with every place in it as the page calls it."""
        given: dict[str, object] = {key: self._given(key, value) for key, value in act["with"].items()}
        if act["act"] == "tag_wire" and not self.named:
            given |= {"wire": self._bare(str(act["with"]["wire"])), "text": f"“{given['text']}”"}
        found: Act = {**act, "with": given, "happened": [self.clean(words) for words in act["happened"]]}
        reading = act.get("reading")
        if reading is not None:
            found["reading"] = self.of_reading(reading)
        return found

    def of_reading(self, reading: ReadingData) -> ReadingData:
        """Return a reading with its places as the page calls them."""
        return {**reading, "places": [self._place(place) for place in reading["places"]]}

    def clean(self, words: str) -> str:
        """Return a sentence of the bench with the names in it as the page calls them."""
        if self.named:
            return _SHOWN.sub(lambda found: shop_name(found[0]), words)
        words = _SPLICED.sub(lambda found: self._any(found[0]), words)
        return re.sub(
            r"(?<=one-shot switch )\w+|^(?:L1|L2|N)(?= is behind)|(?<=^The )\w+(?= (?:is behind|comes off))",
            lambda found: self._any(found[0]),
            words,
        )

    def _any(self, name: str) -> str:
        if name in self.spot_of:
            return self.of_point(name)
        if name.startswith("wire "):
            return self.of_wire(name)
        part = self.of_part(name)
        return "a place" if part == name and "." in name else part

    def _place(self, place: str) -> str:
        if place.startswith("wire "):
            return self.of_wire(place)
        return self.of_point(place) if place in self.spot_of else self.of_part(place)

    def _given(self, key: str, value: object) -> object:
        if not isinstance(value, str):
            return value
        if key in ("a", "b"):
            return self.of_point(value)
        if key in ("wire", "conductor"):
            return self.of_wire(value)
        if key in _SHOWN_AS:
            return _SHOWN_AS[key](value)
        return self.of_part(value) if key in ("part", "spot") else value

    def measured(self, spot: str) -> bool:
        """Return whether the bench has a test point at a spot: two of the lessons' dryer have none."""
        return self.point_at[spot] in behind(self.machine)

    def terminal(self, spot: str) -> str:
        """Return the drawing's own name of what is at a spot."""
        return self._terminal[spot]

    def terminal_tags(self) -> dict[str, str]:
        """Return the words on the tags of a drawing, by terminal: names where they are shown, and one's own."""
        found = {}
        for spot, terminal in self._terminal.items():
            own = [self.bench.tags[wire] for _, wire in self._wires_at[spot] if wire in self.bench.tags]
            words = (
                [shop_name(self.point_at[spot])] if self.named and self.measured(spot) and terminal != CABINET else []
            )
            if words or own:
                found[terminal] = " ".join([*words, *own])
        return found

    # --- wires ------------------------------------------------------------------------------------------------

    @cached_property
    def _our_wire(self) -> Mapping[str, str]:
        """The bench's name of each wire that a hand can pull, by the drawing's."""
        there = pullable(self.machine)
        wires = [wire.name for wire in self.own.arrangement.wires] + [f"wire {self.own.arrangement.motor.name}.s"]
        ours = {name: PARTS.get(name, name) if self.machine.stands is None else name for name in wires}
        return {theirs: name for theirs, name in ours.items() if name in there}

    @cached_property
    def _wires_at(self) -> Mapping[str, list[tuple[str, str]]]:
        """The wires on each spot's terminal that can be pulled, each with its id, in the order of their marks."""
        return {spot: self._wires_on(spot) for spot in self._terminal}

    def wire_ends(self) -> Iterator[tuple[str, str, str]]:
        """Yield, for each end of each wire that a hand can pull: its key in a drawing, its id, the bench's wire."""
        for spot, there in self._wires_at.items():
            for token, wire in there:
                yield wire_key(self._theirs[wire], self._terminal[spot]), token, wire

    def at_wire(self, token: str) -> str:
        """Return what a wire is called at the end that ``token`` says: its name, or its mark and this terminal."""
        wire = self.wire_of[token]
        return wire if self.named else f"the {self._mark(wire)} wire at {self.at_spot(token.rpartition('/')[0])}"

    def _wires_on(self, spot: str) -> list[tuple[str, str]]:
        terminal = self._terminal[spot]
        if terminal == CABINET:
            return []
        names = [wire.name for wire in self.own.arrangement.wires_at(terminal)]
        names += [name for name in self._our_wire if name == f"wire {terminal}"]
        there = sorted((self._our_wire[name] for name in names if name in self._our_wire), key=self._mark)
        return [(f"{spot}/{place}", wire) for place, wire in enumerate(there, start=1)]

    @cached_property
    def _theirs(self) -> Mapping[str, str]:
        return {ours: theirs for theirs, ours in self._our_wire.items()}

    def _mark(self, wire: str) -> str:
        theirs = self._theirs.get(wire, "")
        found = next((one for one in self.own.arrangement.wires if one.name == theirs), None)
        return str(self.own.placement.mark_of(found)) if found else "slate plain"

    @cached_property
    def wire_of(self) -> Mapping[str, str]:
        """The bench's wire by what the page calls it: names themselves, or a place on a terminal."""
        by_place = {token: wire for spot in self._terminal for token, wire in self._wires_at[spot]}
        names = {wire: wire for wire in self._our_wire.values()} if self.named else {}
        return {**by_place, **names, _BOND: _BOND}

    @cached_property
    def _token_of(self) -> Mapping[str, str]:
        found: dict[str, str] = {}
        for token, wire in self.wire_of.items():
            if "/" in token:
                found.setdefault(wire, token)
        return found

    def spots_of_wire(self, wire: str) -> list[str]:
        """Return the spots on which a wire is, for a lesson with names; nothing where that would tell its way."""
        if not self.named:
            return []
        return [spot for spot in self._terminal if any(one == wire for _, one in self._wires_at[spot])]

    def wires_here(self, spots: tuple[str, ...]) -> Iterator[tuple[str, str, str]]:
        """Yield id, words and the bench's name of each wire on the terminals of ``spots``."""
        seen = set()
        for spot in spots:
            for token, wire in self._wires_at[spot]:
                if not (self.named and wire in seen):
                    words = wire if self.named else f"{self._mark(wire)}, {self.at_spot(spot)}"
                    yield (wire if self.named else token), words, wire
                seen.add(wire)

    # --- parts ------------------------------------------------------------------------------------------------

    @cached_property
    def _kinds(self) -> Mapping[str, str]:
        """What each part is called by its kind and place, where two of a kind are counted from the left."""
        words: dict[str, list[str]] = {}
        for view in views(self.own):
            for part in parts_at(self.own, view):
                words.setdefault(f"{part.kind.name} ({spoken_view(view)})", []).append(part.name)
        found = {}
        for what, names in words.items():
            for number, name in enumerate(names, start=1):
                found[name] = what if len(names) == 1 else f"{what[:-1]}, number {number})"
        return found

    @cached_property
    def parts(self) -> Mapping[str, str]:
        """What can be replaced: the bench's name by what the page calls it; coils are chosen by their ends."""
        there = [part for part in replaceable(self.machine) if self.named or not part.startswith(("coil ", "wire "))]
        return {self.of_part(part): part for part in there}

    @cached_property
    def orders(self) -> Mapping[str, str]:
        """What can be ordered: the bench's name by what the page calls it; of coils that are alike, one."""
        there = [part for part, (_, by_electrician) in replaceable(self.machine).items() if not by_electrician]
        return {self.of_part(part): part for part in there if self.named or not part.startswith("wire ")}

    # --- in ---------------------------------------------------------------------------------------------------

    def point(self, said: object) -> str:
        """Return the bench's point that the page means.

        Raises
        ------
        NoSuchPlaceError
            If there is none.
        """
        if isinstance(said, str):
            point = bench_name(said)
            if said in self.point_at:
                return self.point_at[said]
            if point == CASE or (self.named and point in self.spot_of):
                return point
        raise NoSuchPlaceError("The drawing has no such place for a probe.")

    def given(self, given: Mapping[str, object]) -> dict[str, object]:
        """Return what an act is given, with every place that the page means in the bench's words.

        Raises
        ------
        NoSuchPlaceError
            For a place that the machine does not have.
        """
        found: dict[str, object] = {}
        for key, value in given.items():
            if key in ("a", "b"):
                found[key] = self.point(value)
            elif key == "wire" or (key == "conductor" and str(value) not in ("cord", "cord 1", "cord 2", "cord N")):
                found[key] = "cord" if value == "cord" else self._known(self.wire_of, value, "wire")
            else:
                found[key] = value
        return found

    def part(self, said: object) -> str:
        """Return the bench's part that the page means.

        Raises
        ------
        NoSuchPlaceError
            If there is none.
        """
        wires = {} if self.named else self.wire_of
        known = {**self.parts, **{token: wire for token, wire in wires.items() if wire in replaceable(self.machine)}}
        return self._known(known, said, "part")

    def order(self, said: object) -> str:
        """Return the bench's part that the page means to order.

        Raises
        ------
        NoSuchPlaceError
            If there is none.
        """
        return self._known(self.orders, said, "part to order")

    def coil_between(self, a: object, b: object) -> str:
        """Return the coil between two places, which is told only to somebody who read ohms between them.

        Raises
        ------
        NoSuchPlaceError
            If there is none, or nobody has read there.
        """
        ends = {self.point(a), self.point(b)}
        read = [set(act["reading"]["places"]) for act in self.bench.trail
                if "reading" in act and act["reading"]["mode"] in ("ohms", "continuity")]  # fmt: skip
        if ends not in read:
            raise NoSuchPlaceError("Read ohms between the two ends of the coil first: then you know which one it is.")
        for coil in self.own.arrangement.coils:
            if set(coil.ends) == ends:
                return coil.name
        raise NoSuchPlaceError("No single coil is between these two terminals.")

    @staticmethod
    def _known(known: Mapping[str, str], said: object, what: str) -> str:
        if not isinstance(said, str) or said not in known:
            raise NoSuchPlaceError(f"This dryer has no such {what}.")
        return known[said]


def _seat_words(view: str, spot: str, number: int) -> str:
    if spot.endswith("-metal"):
        return CABINET_WORD
    if view == "wall":
        side, _, place = spot.partition("-")
        return f"receptacle slot {place}" if side == "wall" else f"plug blade {place}"
    if view == "block":
        return f"terminal block post {number}"
    return f"{spoken_view(view)} terminal {number}"
