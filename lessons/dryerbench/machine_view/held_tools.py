"""The clamp's jaw, the temperature probe and the airflow meter where they were put, each with its lead to the meter."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import dist

from dryerbench.family.arrangement import Mark
from dryerbench.machine_view.fittings import probe
from dryerbench.machine_view.geometry import Box, Place, away, number
from dryerbench.machine_view.strokes import (
    EDGE,
    OUTLINE,
    at,
    cord,
    disc,
    group,
    line,
    path,
    rect,
    shade,
    text,
    tube,
)

_LEAD = 5.0
AT_SIDE, AT_FLOOR = (748.0, 552.0), (540.0, 555.0)
"""Where a lead leaves a close-up, at the right below, toward the meter; and the whole machine, beside the tray."""
_CLEAR = 42.0
"""How far from what can be pressed a grip hides none of it."""


@dataclass(frozen=True, slots=True)
class Wire:
    """A place on a drawn wire: where, its direction there in degrees, its mark (None: a cord), its width."""

    x: float
    y: float
    along: float
    mark: Mark | None
    width: float


def jaw(wire: Wire, others: Sequence[Place], rest: Place = AT_SIDE) -> str:
    """Return the clamp round a wire; its grip keeps away from ``others``, what else can be pressed.

    The jaw's far half lies behind the wire and its near half before it, so that one sees what it is around.
    """
    x, y, turned = wire.x, wire.y, wire.along - 90.0
    piece, size = "M0-12V12", max(1.0, (wire.width + 16.0) / 38.0)
    ink = f"$tone-{wire.mark.tone}" if wire.mark is not None and wire.mark.tone != "bare" else "$slate"
    body = path(piece, "none", wire.width + 1.8, cap="butt") + path(piece, "none", wire.width, ink, cap="butt")
    body = tube(piece, wire.mark, wire.width) if wire.mark is not None else body
    far, near = "M-19 0A19 10 0 0 1 19 0", "M-19 0A19 10 0 0 0 19 0"
    joint = line(-19, -4, -19, 4, 2, "$white")
    drawn = [at(0, 0, _arm(far), scale=size), body, at(0, 0, _arm(near), joint, scale=size)]
    way = _clear_way(x, y, [turned + lean for lean in (0, 35, -35, 180, 145, 215)], others, 22.0 * size)
    root = away(x, y, way, 22 * size)
    return _lead(away(*root, way, 62), way, rest) + at(*root, _handle(), degrees=way) + at(x, y, *drawn, degrees=turned)


def _arm(data: str) -> str:
    return path(data, "none", 9.6) + path(data, "none", 6.8, "$slate") + path(data, "none", 1, "$zinc")


def _handle() -> str:
    """Return the clamp's grip, from the jaw's root on: trigger, body with the clamp's own sign, strain relief."""
    body = path("M-5-9L10-13H46L56-6V6L46 13H10L-5 9Z", "$white", OUTLINE) + shade("M-5 3H56V6L46 13H10L-5 9Z")
    trigger = path("M12-13q8-9 18-5l-4 5z", "$slate", EDGE)
    sign = path("M22 6a6 6 0 1 1 5 0", "none", 2) + disc(24.5, 0.5, 1.7, "$ink", 0)
    return trigger + body + sign + rect(Box(54, -4, 9, 8), "$slate", EDGE, 2)


def temperature_probe(x: float, y: float, others: Sequence[Place], rest: Place = AT_SIDE) -> str:
    """Return the temperature probe whose bead touches at (x, y): a thin rod, a white grip with its own sign."""
    way = _clear_way(x, y, [62.0, 30.0, 118.0, 150.0, -30.0, -150.0], others, 10.0)
    rod = path("M0 0H46", "none", 4.4) + path("M0 0H46", "none", 2.4, "$zinc") + disc(0, 0, 4.2, "$zinc", EDGE)
    grip = path("M45-5L54-9H98L106-5V5L98 9H54L45 5Z", "$white", OUTLINE) + shade("M45 1H106V5L98 9H54L45 5Z")
    bulb = path("M70-2h14a2 2 0 0 1 0 4h-14z", "none", 1.4) + disc(69, 0, 3.6, "$ink", 0)
    touch = disc(x, y, 13, "none", 4.5, "$white") + disc(x, y, 13, "none", 2)
    return _lead(away(x, y, way, 106), way, rest) + touch + at(x, y, rod, grip, bulb, degrees=way)


def airflow_meter(x: float, y: float, shown: str) -> str:
    """Return the airflow meter with its wheel before (x, y); ``shown`` is what its own small display reads."""
    blades = "".join(
        path(f"M0 0Q{number(px)} {number(py)} {number(qx)} {number(qy)}", "none", 1.6)
        for a in range(0, 360, 45)
        for (px, py), (qx, qy) in [(away(0, 0, a + 30, 9), away(0, 0, a, 15))]
    )
    wheel = disc(0, 0, 20, "$white", OUTLINE) + disc(0, 0, 16, "$paper", EDGE) + blades + disc(0, 0, 3.4, "$ink", 0)
    body = rect(Box(18, -6, 16, 12), "$slate", EDGE, 2) + rect(Box(32, -19, 84, 38), "$slate", OUTLINE, 6)
    window = rect(Box(38, -13, 72, 26), "$display", EDGE, 3)
    return at(x, y, body, wheel, window, text(74, 5, shown or "- -", 13.5, "$digits", "middle", 600))


def tip_on(x: float, y: float, bands: int) -> str:
    """Return a hand probe of the meter whose tip is at (x, y): the first or the second one."""
    return put(f"tip {bands}", x, y, probe(x, y, 118.0 if bands == 1 else 62.0, bands))


def put(kind: str, x: float, y: float, *drawn: str) -> str:
    """Return what was put at (x, y) as one thing that a page may move there; ``kind`` tells it from the others."""
    return group(*drawn, data_move=kind, data_at=f"{number(float(x))} {number(float(y))}")


def _clear_way(x: float, y: float, ways: Sequence[float], others: Sequence[Place], first: float) -> float:
    """Return the direction of ``ways`` in which a grip at (x, y) is in the drawing and hides least of ``others``."""

    def clear(way: float) -> float:
        along = [away(x, y, way, first + far) for far in (18.0, 40.0, 62.0, 84.0, 104.0)]
        if not all(8 < px < 752 and 8 < py < 548 for px, py in along):
            return -1.0
        return min([_CLEAR, *(dist(place, other) for place in along for other in others)])

    return max(ways, key=clear)


def _lead(start: Place, way: float, rest: Place) -> str:
    """Return a lead from the end of a grip to ``rest`` on the edge of the drawing, as one curve."""
    (x, y), (u, v) = start, rest
    slack = min(110.0, dist(start, rest) / 2)
    ax, ay = away(x, y, way, slack)
    ay = min(ay, v - 6)
    bx, by = (u - slack, v - 14) if rest == AT_SIDE else (u - 2 * slack, v - 2)
    return cord(f"M{x:.1f} {y:.1f}C{ax:.1f} {ay:.1f} {bx:.1f} {by:.1f} {u} {v}l14 8", _LEAD, "$enamel")
