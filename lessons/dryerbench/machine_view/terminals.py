"""Terminals close up: blades, connectors, the wires with their marks to the loom, tags, what is pulled and burnt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dryerbench.family.arrangement import Mark, Wire
from dryerbench.family.kinds import Component
from dryerbench.family.own_machine import OwnMachine
from dryerbench.machine_view.covers import is_bare
from dryerbench.machine_view.drawing import Drawing
from dryerbench.machine_view.fittings import (
    REACH,
    connector,
    hanging,
    spade,
    tag,
    tag_box,
)
from dryerbench.machine_view.geometry import Box, Place, away, rounded, word_width
from dryerbench.machine_view.held_tools import put, temperature_probe, tip_on
from dryerbench.machine_view.scene import Scene, wire_key
from dryerbench.machine_view.side_view import spoken_view
from dryerbench.machine_view.spots import spots_at
from dryerbench.machine_view.strokes import EDGE, FINE, disc, path, rect, screw, tube
from dryerbench.machine_view.wire_grips import Way

WIDTH, HEIGHT = 760.0, 560.0
_MOTOR_LEAD = Mark("slate", "plain")


@dataclass(frozen=True, slots=True)
class Blade:
    """A terminal in a close-up: its point, the root of its blade, where it points, and the loom its wires go to."""

    point: str
    x: float
    y: float
    degrees: float
    loom: float
    lane: float = 0.0
    """Where its wires go down or up, if not straight to the loom."""
    sleeved: bool = False
    """A splice: wires come out of a sleeve, there is no blade."""


class CloseUp:
    """What the drawing of one close-up needs to know."""

    def __init__(self, own: OwnMachine, view: str, scene: Scene) -> None:
        self.own, self.view, self.scene = own, view, scene
        self.spots = spots_at(own, view)
        self.points = {spot: point for point, spot in self.spots.items()}
        self.ways: list[Way] = []
        """The wires as they were drawn, for the clamp."""
        self.bead: Place | None = None
        self.drawing = Drawing(WIDTH, HEIGHT, f"{spoken_view(view).capitalize()}, close up", _told(scene, view))

    def bare(self, thing: str) -> bool:
        """Return whether the covers over a part, a box terminal or the ``block`` are off."""
        return is_bare(self.own, thing, self.scene.covers_off)

    def wires(self, point: str) -> list[tuple[Wire | None, Mark]]:
        """Return the wires on a terminal with their marks, in the order of the marks; a motor's own lead is None."""
        own = self.own
        found: list[tuple[Wire | None, Mark]] = [
            (wire, own.placement.mark_of(wire)) for wire in own.arrangement.wires_at(point) if wire.mark.tone != "bare"
        ]
        if point == f"{own.arrangement.motor.name}.s":
            found.append((None, _MOTOR_LEAD))
        return sorted(found, key=lambda one: str(one[1]))

    def way(self, wire: Wire | None, point: str, corners: Sequence[Place], mark: Mark) -> None:
        """Remember how the wire on ``point`` runs; None is the motor's own lead."""
        self.ways.append(Way(self.way_key(wire, point), tuple(corners), mark))

    def way_key(self, wire: Wire | None, point: str) -> str:
        """Return what the end of a wire on ``point`` is called in the scene; None is the motor's own lead."""
        return wire_key(f"wire {point}" if wire is None else wire.name, point)

    def is_jumper(self, wire: Wire | None) -> bool:
        """Return whether a wire goes from one terminal of the box to its neighbor, where one sees it whole."""
        return wire is not None and {wire.a, wire.b} == {f"Box.{letter}" for letter in self.own.arrangement.jumper}

    def point(self, spot: str, spoken: str, x: float, y: float, *, chosen: bool) -> None:
        """Mark where a tip of the two probes can go, if they are in hand."""
        if not self.scene.hand:
            self.drawing.point(spot, spoken, x, y, chosen=chosen)

    def touched(self, spot: str, x: float, y: float) -> None:
        """Mark where the temperature probe can touch, if it is in hand."""
        words, here = self.scene.touchable.get(spot), spot == self.scene.bead
        if self.scene.hand != "temp" or words is None:
            return
        self.drawing.touched(spot, words, x, y, chosen=here)
        if here:
            self.bead = (x, y)

    def put_probe(self) -> None:
        """Draw the temperature probe where its bead is; what else it could touch stays in sight."""
        if self.bead is not None:
            others = [(one.x, one.y) for one in self.drawing.targets if (one.x, one.y) != self.bead]
            self.drawing.add_over(put("temp", *self.bead, temperature_probe(*self.bead, others)))

    def is_off(self, wire: Wire | None, point: str) -> bool:
        """Return whether a wire is off a terminal."""
        return f"wire {point}" in self.scene.pulled if wire is None else self.scene.is_off(wire, point)


def _told(scene: Scene, view: str) -> str:
    told = []
    if view in scene.hot:
        told.append("It is hot.")
    if view in scene.glowing:
        told.append("Coils glow.")
    tags = [words for words in scene.tags.values() if words]
    if tags:
        told.append(f"Tags: {', '.join(tags)}.")
    return " ".join(told) or "Nothing is tagged."


def _route(blade: Blade, start: tuple[float, float], turn: int, across: float) -> list[tuple[float, float]]:
    """Return a wire's corners from its connector to the loom; ``across`` spreads several wires of one blade."""
    x, y = start
    if abs(blade.degrees % 180) < 1:
        lane = blade.lane + across
        return [(x, y), (lane, y), (lane, blade.loom)]
    out = 14.0 * turn
    lane = (blade.lane or x) + across
    if abs(lane - x) < 1:
        return [(x, y), (x, blade.loom)]
    return [(x, y), (x, y + out * 0.4), (lane, y + out * 1.4), (lane, blade.loom)]


def _drawn_wires(shown: CloseUp, blade: Blade) -> None:
    wires = [one for one in shown.wires(blade.point) if not shown.is_jumper(one[0])]
    turn = 1 if blade.loom > blade.y else -1
    for place, (wire, mark) in enumerate(wires):
        across = (place - (len(wires) - 1) / 2) * 9.0
        root = (blade.x, blade.y, blade.degrees)
        if shown.is_off(wire, blade.point):
            root = hanging(*root)
        start = away(*root, REACH)
        if blade.sleeved:
            start = (blade.x + across * 0.6, blade.y)
        corners = _route(blade, start, turn, across)
        shown.drawing.add(tube(rounded(corners, 12), mark))
        shown.way(wire, blade.point, corners, mark)


def _drawn_jumper(shown: CloseUp, blades: Sequence[Blade]) -> None:
    """Draw the jumper between two neighbors of the box."""
    for wire in shown.own.arrangement.wires:
        ends = [blade for blade in blades if blade.point in (wire.a, wire.b)]
        if not shown.is_jumper(wire) or len(ends) != 2:
            continue
        roots = [(one.x, one.y, one.degrees) for one in ends]
        roots = [
            hanging(*root) if shown.is_off(wire, one.point) else root for root, one in zip(roots, ends, strict=True)
        ]
        (ax, ay), (bx, by) = (away(*root, REACH) for root in roots)
        low = max(ay, by) + 18
        corners = [(ax, ay), (ax, low), (bx, low), (bx, by)]
        if abs(ax - bx) < 30:
            corners = [(ax, ay), (ax, ay + 8), (ax - 32, ay + 8), (ax - 32, low), (bx, low), (bx, by)]
        mark = shown.own.placement.mark_of(wire)
        shown.drawing.add(tube(rounded(corners, 10), mark))
        shown.way(wire, ends[0].point, corners, mark)


def _drawn_blade(shown: CloseUp, blade: Blade) -> None:
    if blade.sleeved:
        return
    wires = shown.wires(blade.point)
    burnt = blade.point in shown.scene.burnt
    on = [wire for wire, _ in wires if not shown.is_off(wire, blade.point)]
    shown.drawing.add(spade(blade.x, blade.y, blade.degrees, burnt=burnt))
    spot, off = shown.spots[blade.point], len(on) < len(wires)
    if off:
        x, y, turn = hanging(blade.x, blade.y, blade.degrees)
        with shown.drawing.moving(f"sleeve {spot}", x, y, turn=turn):
            shown.drawing.add(connector(x, y, turn, burnt=burnt))
    if on:
        with shown.drawing.moving(f"sleeve {'on ' if off else ''}{spot}", blade.x, blade.y, turn=blade.degrees):
            shown.drawing.add(connector(blade.x, blade.y, blade.degrees, burnt=burnt))
    if len(on) > 1:
        x, y = away(blade.x, blade.y, blade.degrees, 22)
        shown.drawing.add(disc(x, y, 3.2, "$zinc", FINE))


def _spot(shown: CloseUp, blade: Blade, number: int) -> None:
    scene, drawing = shown.scene, shown.drawing
    on = [wire for wire, _ in shown.wires(blade.point) if not shown.is_off(wire, blade.point)]
    reach = 0.0 if blade.sleeved else 40.0 if on else 19.0
    x, y = away(blade.x, blade.y, blade.degrees, reach)
    if blade.sleeved:
        y -= 12
    words = scene.tags.get(blade.point, "")
    spoken = f"{spoken_view(shown.view)}, terminal {number}" + (f", tagged {words}" if words else "")
    spoken += "" if on else ", wire off"
    spot = shown.spots[blade.point]
    if words:
        level = away(blade.x, blade.y, blade.degrees, 58 if not blade.sleeved else 14)
        drawing.add(tag(*level, words))
        drawing.part(f"tag {spot}", tag_box(*level, words))
    shown.point(spot, spoken, x, y, chosen=scene.marks(blade.point))
    for bands, tip in enumerate(scene.probes, start=1):
        if tip == blade.point:
            drawing.add_over(tip_on(x, y, bands))


def draw_blades(shown: CloseUp, blades: Sequence[Blade]) -> None:
    """Draw wires, blades and connectors, then the spots, in the order given."""
    for blade in blades:
        _drawn_wires(shown, blade)
    _drawn_jumper(shown, blades)
    for blade in blades:
        _drawn_blade(shown, blade)
    for number, blade in enumerate(blades, start=1):
        _spot(shown, blade, number)


def draw_loom(drawing: Drawing, y: float, left: float = -6.0, right: float = 724.0) -> None:
    """Draw the sleeve of a harness from the left edge."""
    drawing.add(path(f"M{left} {y}H{right}", "none", 20), path(f"M{left} {y}H{right}", "none", 17.5, "$slate"))
    for x in (64.0, 330.0, 600.0):
        drawing.add(rect(Box(x, y - 14, 9, 28), "$enamel", EDGE, 3))


def draw_bare_metal(shown: CloseUp, x: float, y: float) -> None:
    """Draw a bare screw of the cabinet, on which a tip finds the case."""
    drawing = shown.drawing
    drawing.add(screw(x, y, "hex", 10))
    shown.point(f"{shown.view}-metal", "bare metal of the cabinet", x, y, chosen=shown.scene.marks("G"))
    for bands, tip in enumerate(shown.scene.probes, start=1):
        if tip == "G":
            drawing.add_over(tip_on(x, y, bands))


def draw_name(shown: CloseUp, part: Component, x: float, y: float) -> None:
    """Write what a part is, beside it: for a first lesson."""
    words = part.kind.name.replace("door switch with light", "door switch")
    wide = word_width(words, 12.5, bold=True) + 8
    shown.drawing.add(rect(Box(x - wide / 2, y - 12, wide, 17), "$white", FINE, 3))
    shown.drawing.word(x, y, words, 12.5, "middle", 600)


def draw_covered(shown: CloseUp, box: Box) -> None:
    """Draw the sheet metal that still lies over a place."""
    shown.drawing.add(rect(box, "$enamel", 2.4, 4), rect(box.grown(-6), "none", FINE, 2))
    corners = ((box.x + 14, box.y + 14), (box.right - 14, box.bottom - 14))
    shown.drawing.add("".join(screw(x, y, "hex", 5) for x, y in corners))
