"""What stands inside the cabinet, drawn small: drum and belt, heater box, motor, blower, duct, block, console."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from dryerbench.family.arrangement import Mark
from dryerbench.family.kinds import DIAL_CONTACTS, RELAYS, SELECTOR_CONTACTS, Component
from dryerbench.machine_view.geometry import Box, away, number, outline, rounded
from dryerbench.machine_view.strokes import (
    EDGE,
    FINE,
    OUTLINE,
    disc,
    dots,
    line,
    path,
    rect,
    shade,
    shade_box,
    tube,
)


def _disc_sign(x: float, y: float) -> str:
    flange = rect(Box(x - 11, y - 3, 22, 6), "$enamel", FINE, 2)
    return flange + disc(x, y, 7.5, "$slate", EDGE) + disc(x, y, 4.6, "$enamel", FINE)


def _link_sign(x: float, y: float) -> str:
    return rect(Box(x - 11, y - 2, 22, 5), "$enamel", FINE, 2) + rect(Box(x - 7, y - 5, 14, 10), "$white", EDGE, 2)


def _sensor_sign(x: float, y: float) -> str:
    leads = line(x - 3, y - 8, x - 3, y, 1) + line(x + 3, y - 8, x + 3, y, 1)
    return leads + rect(Box(x - 5, y - 2, 10, 8), "$white", EDGE, 3)


def _switch_sign(x: float, y: float) -> str:
    return rect(Box(x - 7, y - 6, 14, 12), "$white", EDGE, 2) + line(x - 3, y, x + 3, y, 1)


_SIGNS: dict[str, Callable[[float, float], str]] = {
    **dict.fromkeys(("cycling thermostat", "low thermostat", "high limit"), _disc_sign),
    **dict.fromkeys(("cut-off", "thermal fuse"), _link_sign),
    "manual cut-off": lambda x, y: _link_sign(x, y) + disc(x, y - 6, 2.6, "$ink", 0),
    **dict.fromkeys(("exhaust sensor", "inlet sensor"), _sensor_sign),
    "bias heater": lambda x, y: path(f"M{x - 9} {y}l3-4 3 8 3-8 3 8 3-8 3 4", "none", 1.6),
    "lamp": lambda x, y: disc(x, y - 2, 5, "$white", EDGE) + rect(Box(x - 3, y + 3, 6, 5), "$zinc", FINE),
    "splice": lambda x, y: "",
}


def sign(kind: str, x: float, y: float) -> str:
    """Return a part at a glance: what a mechanic tells apart from a step away."""
    return _SIGNS.get(kind, _switch_sign)(x, y)


def drum(x: float, y: float, r: float, *, rear: bool = False) -> str:
    """Return the drum: from the front its opening, baffles and perforated back; from the rear its bulkhead."""
    out = disc(x, y, r, "$enamel", OUTLINE)
    out += shade(f"M{x - r} {y}a{r} {r} 0 0 0 {2 * r} 0h-14a{r - 14} {r - 14} 0 0 1 {28 - 2 * r} 0z")
    if rear:
        out += disc(x, y, r - 12, "$zinc", EDGE) + disc(x, y, r - 7, "none", FINE)
        out += "".join(
            path(
                outline(
                    [
                        away(x, y, a - 9, r * 0.72),
                        away(x, y, a - 6, r * 0.4),
                        away(x, y, a + 6, r * 0.4),
                        away(x, y, a + 9, r * 0.72),
                    ]
                ),
                "$enamel",
                FINE,
            )
            for a in range(30, 390, 60)
        )
        return out + disc(x, y, r * 0.2, "$slate", EDGE) + disc(x, y, r * 0.09, "$zinc", EDGE)
    out += disc(x, y, r - 14, "$slate", OUTLINE) + disc(x, y, r - 8, "none", FINE)
    back = r * 0.56
    out += disc(x, y, back, "$deep", EDGE)
    for share, step in ((0.78, 22.5), (0.5, 36), (0.22, 90)):
        out += dots([away(x, y, k * step, back * share) for k in range(int(360 / step))], 2.0)
    for a in (-90, 30, 150):
        fin = [away(x, y, a - 6, r - 14), away(x, y, a - 5, back), away(x, y, a + 5, back), away(x, y, a + 6, r - 14)]
        out += path(outline(fin), "$enamel", EDGE) + shade(
            outline([fin[0], fin[1], away(x, y, a, back), away(x, y, a, r - 14)]), 0.2
        )
    return out


def drum_out(x: float, y: float, r: float) -> str:
    """Return the place of a drum that has been lifted out: its two rings on the back wall, dashed."""
    return disc(x, y, r, "none", EDGE, dashes="6 5") + disc(x, y, r - 12, "none", FINE, dashes="3 4")


def belt_drawn(data: str) -> str:
    """Return a ribbed belt along a path."""
    return (
        path(data, "none", 5.4)
        + path(data, "none", 2.6, "$faint")
        + path(data, "none", 0.8, "$white", stroke_dasharray="5 5")
    )


def idler(x: float, y: float, arm: tuple[float, float]) -> str:
    """Return the idler on its arm."""
    data = f"M{number(arm[0])} {number(arm[1])}L{number(x)} {number(y)}"
    out = path(data, "none", 8) + path(data, "none", 5, "$enamel") + disc(*arm, 4.5, "$zinc")
    return out + disc(x, y, 9, "$white", EDGE) + disc(x, y, 2.5, "$ink", 0)


def heater_box(
    box: Box, parts: Sequence[Component], *, covered: bool, tall: bool, rightward: bool, terminals: int
) -> str:
    """Return the heater box: sheet metal, its mouth, the slots of its guard, thermostats and blades on it."""
    x, y, w, h = box.x, box.y, box.w, box.h
    out = (
        path(f"M{x + 6} {y}l8-9h{w - 28}l8 9z", "$enamel")
        + rect(box, "$zinc", OUTLINE, 2)
        + shade_box(x + 1, y + h - 10, w - 2, 9)
    )
    if covered:
        lid = Box(x + 5, y + 8, w - 10, h - 22)
        return (
            out
            + rect(lid, "$enamel", EDGE, 2)
            + "".join(line(lid.x + 14, lid.y + 20 + k * 9, lid.right - 14, lid.y + 20 + k * 9, 2) for k in range(3))
        )
    board = Box(box.right - 17 if rightward else x + 5, y + (40 if tall else 10), 12, h - (58 if tall else 28))
    guard = Box(x + (8 if rightward else 21), y + 34, w - 29, h - 50)
    out += rect(guard, "$slate", EDGE, 3)
    rows = max(2, int(guard.h // 13))
    for row in range(rows):
        level = guard.y + 8 + row * (guard.h - 14) / max(rows - 1, 1)
        zigzag = "l2.6-4 2.6 8 2.6-4" * int((guard.w - 8) / 7.8)
        out += path(f"M{number(guard.x + 4)} {number(level)}{zigzag}", "none", 1.2, "$white")
    for place, part in enumerate(parts):
        out += sign(part.kind.name, guard.x + 11 + place * 22 if rightward else guard.right - 11 - place * 22, y + 17)
    out += rect(board, "$white", EDGE, 2)
    step = (board.h - 10) / max(terminals - 1, 1)
    edge = board.right if rightward else board.x - 7
    return out + "".join(rect(Box(edge, board.y + 3 + k * step, 7, 5), "$brass", FINE) for k in range(terminals))


def motor(box: Box, parts: Sequence[Component], *, pulley: bool = True) -> str:
    """Return the motor end-on: shell, winding slots, pulley, and the switch on its end with its blades."""
    x, y = box.middle[0], box.y + 46
    r = min(31.0, box.w / 2 - 1)
    out = path(f"M{x - r} {box.bottom}l6-14h{2 * r - 12}l6 14z", "$zinc", EDGE) + disc(x, y, r, "$slate", OUTLINE)
    out += disc(x, y, r - 6, "none", FINE, "$zinc")
    out += "".join(line(*away(x, y, a, r - 6), *away(x, y, a, r - 1), 1, "$zinc") for a in range(0, 360, 30))
    switches = len([part for part in parts if part.kind.name != "motor"])
    pack = Box(x - 9 - 4 * switches, box.y + 1, 18 + 8 * switches, 13)
    out += rect(pack, "$white", EDGE, 2)
    out += "".join(
        rect(Box(pack.x + 5 + k * (pack.w - 14) / (switches + 1), pack.y - 5, 4, 6), "$brass", FINE)
        for k in range(switches + 2)
    )
    return out + (disc(x, y, 9, "$zinc", EDGE) + disc(x, y, 3, "$ink", 0) if pulley else "")


def blower(box: Box, parts: Sequence[Component], *, rightward: bool) -> str:
    """Return the blower: its scroll, the wheel's eye, the outlet, and what is mounted on the housing."""
    r = min(36.0, box.w / 2 - 2)
    x, y = (box.x + r + 2, box.bottom - r - 2) if rightward else (box.right - r - 2, box.bottom - r - 2)
    s = 1 if rightward else -1
    edge = box.right if rightward else box.x
    sweep = 1 if rightward else 0
    out = path(
        f"M{number(x - s * r)} {number(y)}A{r} {r} 0 0 {sweep} {number(x)} {number(y - r)}H{number(edge)}v26"
        f"H{number(x + s * r)}V{number(y)}A{r} {r} 0 0 {sweep} {number(x - s * r)} {number(y)}z",
        "$enamel",
        OUTLINE,
    )
    out += disc(x, y, r - 12, "$slate", EDGE)
    out += "".join(line(*away(x, y, a, 7), *away(x, y, a + 24, r - 14), 1.4, "$zinc") for a in range(0, 360, 36))
    out += disc(x, y, 6, "$zinc", EDGE)
    shown = [part for part in parts if part.kind.name != "bias heater"]
    for place, part in enumerate(shown):
        out += sign(part.kind.name, x + s * (-6 + place * 25), y - r + 9)
    if len(shown) < len(parts):
        out += path(f"M{number(x - s * 6 - 10)} {number(y - r + 19)}q10 6 20 0", "none", 2)
    return out


def duct(box: Box, parts: Sequence[Component], *, covered: bool) -> str:
    """Return a duct of sheet metal with its collar; covered by its plate or with what is mounted in it."""
    x, y, w, h = box.x, box.y, box.w, box.h
    out = (
        rect(box, "$zinc", OUTLINE, 2)
        + line(x + 6, y + 3, x + 6, y + h - 3, FINE)
        + line(x + w - 6, y + 3, x + w - 6, y + h - 3, FINE)
    )
    out += shade_box(x + w - 8, y + 1, 7, h - 2)
    if covered:
        return out + rect(Box(x + 4, y + 10, w - 8, h - 30), "$enamel", EDGE, 2)
    out += disc(x + w / 2, y + h - 20, min(15, w / 2 - 4), "$slate", EDGE)
    return out + "".join(sign(part.kind.name, x + w / 2, y + 15 + place * 22) for place, part in enumerate(parts))


def block(box: Box, *, strapped: bool) -> str:
    """Return the terminal block: three rows of brass and screws, on a three-wire machine the strap to the cabinet."""
    x, y, w, h = box.x, box.y, box.w, box.h
    out = rect(Box(x, y, w, h - 6), "$white", EDGE, 3) + shade_box(x + 1, y + h - 13, w - 2, 6)
    for k in range(3):
        row = Box(x + 3, y + 4 + k * 11, w - 6, 8)
        out += (
            rect(row, "$brass", FINE, 1)
            + disc(row.x + 4, row.y + 4, 2.5, "$zinc", FINE)
            + disc(row.right - 4, row.y + 4, 2.5, "$zinc", FINE)
        )
    if strapped:
        out += path(f"M{x + w / 2} {y + 19}v{h - 20}", "none", 4) + path(
            f"M{x + w / 2} {y + 19}v{h - 20}", "none", 2.4, "$brass"
        )
    return out + disc(x + w / 2, y + h, 3.4, "$zinc", EDGE)


def relay_base(box: Box) -> str:
    """Return a relay on the cabinet's base: a clear case with its coil, and blades below."""
    x, y, w, h = box.x, box.y + box.h - 54, box.w, 50.0
    out = rect(Box(x, y + h - 6, w, 10), "$zinc", EDGE, 2) + rect(Box(x + 6, y, w - 12, h - 6), "$white", EDGE, 3)
    out += rect(Box(x + 14, y + 12, w - 36, 22), "$brass", FINE, 2) + "".join(
        line(x + 17 + k * 4, y + 12, x + 17 + k * 4, y + 34, FINE) for k in range(int((w - 40) / 4))
    )
    return out + line(x + w - 16, y + 8, x + w - 16, y + 36, 1.6)


def door_frame(box: Box, parts: Sequence[Component]) -> str:
    """Return the switch (and lamp) at the door's frame."""
    if box.w > box.h:
        return "".join(
            sign(part.kind.name, box.x + 11 + place * 20, box.y + box.h / 2) for place, part in enumerate(parts)
        )
    out = rect(Box(box.x, box.y, 9, box.h), "$enamel", FINE, 1)
    return out + "".join(sign(part.kind.name, box.x + 12, box.y + 9 + place * 17) for place, part in enumerate(parts))


def console_inside(box: Box, parts: Sequence[Component]) -> str:
    """Return the console, open: timer or board with relays, selector, start switch, each by its shape."""
    out = rect(box, "$zinc", OUTLINE, 4) + rect(Box(box.x + 8, box.y + 8, box.w - 16, box.h - 14), "$slate", EDGE, 3)
    timer = [part for part in parts if part.kind.name in (*DIAL_CONTACTS, "dial motor", "bias contact")]
    board = [part for part in parts if part.kind.name == "board"]
    relays = [part for part in parts if part.kind.name in RELAYS]
    others = [part for part in parts if part not in (*timer, *board, *relays)]
    x, y = box.x + 20, box.y + 15
    if board or relays:
        wide = 62 + 26 * len(relays)
        out += rect(Box(x, y, wide, 34), "$enamel", EDGE, 2) + rect(Box(x + 8, y + 9, 16, 16), "$slate", FINE, 1)
        out += "".join(rect(Box(x + 54 + 26 * k, y + 6, 21, 22), "$white", EDGE, 2) for k in range(len(relays)))
        out += "".join(rect(Box(x + 30 + 5 * k, y + 22, 3, 8), "$brass", FINE) for k in range(4))
        x += wide + 12
    if timer:
        out += (
            rect(Box(x, y + 1, 66, 32), "$white", EDGE, 3)
            + disc(x + 20, y + 17, 13, "$zinc", EDGE)
            + disc(x + 20, y + 17, 4, "$brass", FINE)
        )
        out += "".join(rect(Box(x + 38 + 6 * k, y + 5, 3.4, 10), "$brass", FINE) for k in range(4)) + disc(
            x + 50, y + 25, 6, "$zinc", FINE
        )
        x += 78
    for part in others:
        tall = part.kind.name in SELECTOR_CONTACTS
        out += rect(Box(x, y + 4, 28 if tall else 22, 26), "$white", EDGE, 3) + (
            disc(x + 14, y + 17, 7, "$zinc", FINE) if tall else rect(Box(x + 7, y + 9, 8, 16), "$zinc", FINE, 2)
        )
        x += 36 if tall else 30
    return out


def loom(top: float, column: float, ends: Sequence[tuple[float, float]], marks: Sequence[Mark]) -> str:
    """Return a few wires that come down a wall of the cabinet and go to ``ends``."""
    step = 5 if column < 400 else -5
    drawn = ""
    for k, ((x, y), mark) in enumerate(zip(ends, marks, strict=False)):
        lane = column + step * k
        drawn += tube(rounded([(lane, top), (lane, y - 14 - 3 * k), (x, y - 14 - 3 * k), (x, y)], 8), mark, 2.2)
    return drawn


def cabinet_inside(body: Box) -> str:
    """Return the cabinet's inside: back wall with its seams, side flanges, base."""
    x, y, w, h = body.x, body.y, body.w, body.h
    out = (
        rect(body, "$zinc", OUTLINE, 2)
        + shade_box(x + 10, y + 4, w - 20, h - 16, 0.1)
        + shade_box(x + 10, y + 4, w - 20, 8)
    )
    out += "".join(line(x + 34 + k * 62, y + 12, x + 34 + k * 62, y + h - 20, FINE, "$faint") for k in range(4))
    out += rect(Box(x, y, 11, h), "$enamel", EDGE) + rect(Box(body.right - 11, y, 11, h), "$enamel", EDGE)
    out += rect(Box(x, body.bottom - 12, w, 12), "$enamel", EDGE) + shade_box(body.right - 5, y + 1, 4, h - 2)
    return out


def feet(body: Box) -> str:
    """Return the feet."""
    return "".join(rect(Box(x, body.bottom, 22, 10), "$slate", EDGE, 2) for x in (body.x + 14, body.right - 36))
