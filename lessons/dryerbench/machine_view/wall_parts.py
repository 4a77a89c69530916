"""What is on the wall: breaker with its lock, receptacle, plug and cord.

The slots follow NEMA WD 6 from memory, unchecked: 14-30R has two straight slots, an L-shaped neutral and a round
ground; 10-30R two slanted slots and an L-shaped neutral, no ground. No dimension is taken from the standard.
"""

from __future__ import annotations

from dryerbench.machine_view.drawing import Drawing
from dryerbench.machine_view.geometry import Box, curve, number
from dryerbench.machine_view.scene import CORD
from dryerbench.machine_view.strokes import (
    EDGE,
    FINE,
    OUTLINE,
    at,
    cord,
    disc,
    line,
    path,
    rect,
    shade,
    shade_box,
    text,
)
from dryerbench.machine_view.wire_grips import Way

BREAKER = Box(640, 24, 108, 140)
RECEPTACLE = Box(658, 196, 72, 76)
PLUG_OUT = (694.0, 346.0)


def breaker(box: Box, *, on: bool, locked: bool) -> str:
    """Return the open service panel: small breakers, the double one, and on it lock-off, padlock and tag."""
    x, y, w, h = box.x, box.y, box.w, box.h
    out = (
        rect(box, "$enamel", OUTLINE, 3)
        + rect(Box(x + 9, y + 9, w - 18, h - 18), "$zinc", EDGE, 2)
        + shade_box(x + 9, y + 9, w - 18, 6)
    )
    half, left, top = (w - 32) / 2, x + 13, y + 46
    for row, column in ((0, 0), (0, 1), (3, 0), (3, 1)):
        mx, my = x + 14 + column * (half + 4), y + 19 + row * 27
        out += rect(Box(mx, my, half, 24), "$slate", FINE, 2)
        out += rect(Box(mx + (half - 15 if column == 0 else 4), my + 8, 11, 8), "$enamel", FINE)
    out += rect(Box(left, top - 1, w - 26, 53), "$hole", EDGE, 2)
    out += rect(Box(x + w - 31 if on else left + 6, top + 13, 12, 24), "$white", EDGE, 2)
    word_x, anchor = (left + 10, "start") if on else (x + w - 20, "end")
    out += text(word_x, top + 31, "ON" if on else "OFF", 15, "$on-slate", anchor, 700)
    return out + (_lock_off(left, top) if locked else "")


def _lock_off(left: float, top: float) -> str:
    out = path(f"M{left} {top + 6}h26v50h-26zM{left + 5} {top + 12}v26h14v-26z", "$straw", EDGE, fill_rule="evenodd")
    x, y = left + 12, top + 46
    hasp = f"M{x - 7} {y + 18}v-14a7 7 0 0 1 14 0v14"
    out += (
        path(hasp, "none", 5) + path(hasp, "none", 2.6, "$zinc") + rect(Box(x - 13, y + 15, 26, 22), "$brass", EDGE, 4)
    )
    out += shade_box(x - 12, y + 30, 24, 6) + disc(x, y + 23, 2.4, "$ink", 0) + line(x, y + 23, x, y + 30, 1.8)
    card = path("M-8 0h66v30h-66l-6-6v-18z", "$straw") + disc(-5, 15, 2.4, "$paper", FINE)
    card += text(5, 20, "locked", 15, "$on-straw", "start", 700)
    return out + path(f"M{x + 7} {y + 20}q8 4 13 22", "none", 1) + at(x + 26, y + 30, card, degrees=5)


def slots(cord_kind: str, scale: float = 1.0) -> dict[str, tuple[float, float]]:
    """Return where each slot is from the receptacle's center: 1 and 2 the legs, N the neutral, G the ground."""
    there = {"1": (-17.0, -2.0), "2": (17.0, -2.0), "N": (0.0, 13.0)}
    if cord_kind == "four-wire":
        there["G"] = (0.0, -17.0)
    return {slot: (x * scale, y * scale) for slot, (x, y) in there.items()}


def receptacle_face(x: float, y: float, cord_kind: str, scale: float = 1.0) -> str:
    """Return the receptacle's round face with its slots."""
    k = scale
    there = slots(cord_kind, k)
    out = disc(x, y, 29 * k, "$enamel", EDGE)
    lean = 0.0 if cord_kind == "four-wire" else 28.0
    for slot, way in (("1", 1), ("2", -1)):
        sx, sy = there[slot]
        out += at(x + sx, y + sy, rect(Box(-2.3 * k, -9 * k, 4.6 * k, 18 * k), "$hole", 0), degrees=way * lean)
    nx, ny = there["N"]
    corner = f"M{number(x + nx - 5 * k)} {number(y + ny + 8 * k)}v{number(-8 * k)}h{number(10 * k)}"
    out += path(corner, "none", 4 * k, "$hole", cap="butt")
    if "G" in there:
        gx, gy = there["G"]
        out += disc(x + gx, y + gy, 4 * k, "$hole", 0)
    return out


def receptacle(box: Box, cord_kind: str) -> str:
    """Return the receptacle with its cover plate."""
    out = rect(box, "$white", OUTLINE, 4) + shade_box(box.x + 1, box.bottom - 7, box.w - 2, 6)
    return out + receptacle_face(*box.middle, cord_kind)


def plug(x: float, y: float, cord_kind: str, *, plugged: bool) -> str:
    """Return the plug, with its blades if it is out."""
    blades = ""
    if not plugged:
        blades = (
            rect(Box(-17, -36, 5, 18), "$brass", 1)
            + rect(Box(12, -36, 5, 18), "$brass", 1)
            + rect(Box(-3, -34, 7, 16), "$brass", 1)
        )
        blades += rect(Box(-9, -30, 4, 12), "$zinc", 1, 2) if cord_kind == "four-wire" else ""
    body = path("M-24-18H24V4L14 24H-14L-24 4Z", "$slate", OUTLINE) + shade("M-24-2H24V4L14 24H-14L-24 4Z", 0.25)
    return at(x, y, blades, body, *(line(k, -8, k, 2, 1, "$zinc") for k in (-12, 0, 12)))


def draw_wall(
    drawing: Drawing, cord_kind: str, start: tuple[float, float], *, plugged: bool, on: bool, locked: bool, chosen: str
) -> Way:
    """Draw breaker, receptacle, plug and the cord that comes from ``start`` on the cabinet; return the cord's way."""
    drawing.part("breaker", BREAKER)
    drawing.part("receptacle", RECEPTACLE)
    drawing.add(breaker(BREAKER, on=on, locked=locked), receptacle(RECEPTACLE, cord_kind))
    x, y = (RECEPTACLE.middle[0], RECEPTACLE.middle[1] + 12) if plugged else PLUG_OUT
    sx, sy = start
    low = 404.0
    bends = ((sx, sy), (sx + 66, sy), (sx + 30, low), (x - 46, low), (x, y + 54), (x, y + 22))
    a, b, c, d, e, f = (f"{number(px)} {number(py)}" for px, py in bends)
    data = f"M{a}C{b} {c} {d}S{e} {f}"
    drawing.add(cord(data), plug(x, y, cord_kind, plugged=plugged))
    if not plugged:
        drawing.part("plug", Box(x - 24, y - 36, 48, 60))
    drawing.place(
        "breaker",
        f"breaker, {'on' if on else 'off'}{', locked' if locked else ''}",
        BREAKER.x,
        BREAKER.y + 66,
        chosen=chosen == "breaker",
    )
    drawing.place("wall", "receptacle, look closer", RECEPTACLE.right, RECEPTACLE.y + 2, chosen=chosen == "wall")
    plug_y = y + 2 if not plugged else RECEPTACLE.bottom + 24
    drawing.place("plug", f"plug, {'in' if plugged else 'out'}", x, plug_y, chosen=chosen == "plug")
    first, last = ((sx, sy), (sx + 66, sy), (sx + 30, low), (x - 46, low)), (x - 46, low)
    after = (last, (2 * (x - 46) - (sx + 30), low), (x, y + 54), (x, y + 22))
    return Way(CORD, (*curve(*first), *curve(*after)[1:]), None, 7, first=76.0)
