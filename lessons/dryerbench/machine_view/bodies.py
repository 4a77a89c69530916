"""Bodies of parts, close up: what a mechanic knows each kind by. The blades are drawn by whoever places them."""

from __future__ import annotations

from collections.abc import Callable

from dryerbench.family.kinds import RELAYS, Component
from dryerbench.machine_view.geometry import Box, away, number, outline
from dryerbench.machine_view.small_parts import belt_drawn
from dryerbench.machine_view.strokes import (
    EDGE,
    FINE,
    OUTLINE,
    disc,
    line,
    path,
    rect,
    screw,
    shade,
    shade_box,
)

PITCH = 56.0
"""Between two blades of a part."""
DEEP = 76.0
"""How deep a body is, from its top to the roots of its blades."""


def body_width(terminals: int) -> float:
    """Return how wide a part's body is."""
    return max(terminals, 2) * PITCH + 4


def blade_places(box: Box, terminals: int) -> list[float]:
    """Return how far to the right each blade of a part sits."""
    start = box.middle[0] - PITCH * (terminals - 1) / 2
    return [start + PITCH * k for k in range(terminals)]


def _disc(box: Box) -> str:
    x, y = box.middle[0], box.y + 36
    plate = (
        rect(Box(x - 50, y - 2, 100, 22), "$enamel", EDGE, 9)
        + screw(x - 41, y + 9, "Ph", 4.2)
        + screw(x + 41, y + 9, "Ph", 4.2)
    )
    cup = disc(x, y, 30, "$slate", EDGE) + disc(x, y, 22, "$enamel", EDGE)
    return plate + cup + shade(f"M{x - 22} {y}a22 22 0 0 0 44 0z") + disc(x, y, 7, "none", FINE) + _shoulder(box)


def _shoulder(box: Box) -> str:
    return rect(Box(box.middle[0] - PITCH / 2 - 16, box.bottom - 18, PITCH + 32, 20), "$white", EDGE, 4)


def _link(box: Box, *, button: bool = False) -> str:
    x, y = box.middle[0], box.y + 42
    out = (
        rect(Box(x - 58, y - 4, 116, 18), "$enamel", EDGE, 8)
        + screw(x - 50, y + 5, "Ph", 4)
        + screw(x + 50, y + 5, "Ph", 4)
    )
    out += rect(Box(x - 40, y - 20, 80, 52), "$white", EDGE, 5) + shade_box(x - 39, y + 22, 78, 9)
    out += path(f"M{x - 18} {y - 4}h10q4-7 8 0q4 7 8 0h10", "none", EDGE)
    if button:
        out += rect(Box(x - 8, y - 34, 16, 15), "$slate", EDGE, 3) + line(x - 14, y - 20, x + 14, y - 20, 2)
    return out


def _sensor(box: Box) -> str:
    x, y = box.middle[0], box.y + 24
    out = (
        rect(Box(x - 40, y + 10, 80, 18), "$enamel", EDGE, 8)
        + screw(x - 31, y + 19, "Ph", 4)
        + screw(x + 31, y + 19, "Ph", 4)
    )
    out += rect(Box(x - 9, y - 18, 18, 30), "$brass", EDGE, 8) + line(x - 9, y - 2, x + 9, y - 2, FINE)
    return out + _shoulder(box)


def _resistor(box: Box) -> str:
    x, y = box.middle[0], box.y + 40
    out = rect(Box(x - 46, y - 13, 92, 26), "$white", EDGE, 12)
    turns = "".join(f"M{number(x - 32 + k * 8)} {y - 13}q7 13 0 26" for k in range(9))
    return (
        out
        + path(turns, "none", 1.6)
        + rect(Box(x - 52, y - 8, 9, 38), "$zinc", EDGE, 2)
        + rect(Box(x + 43, y - 8, 9, 38), "$zinc", EDGE, 2)
        + _shoulder(box)
    )


def _timer_bank(box: Box) -> str:
    out = rect(Box(box.x + 6, box.y + 12, box.w - 12, box.h - 12), "$white", EDGE, 3) + shade_box(
        box.x + 7, box.bottom - 9, box.w - 14, 8
    )
    x, y = box.middle[0], box.y + 32
    return (
        out
        + line(x - 26, y + 6, x + 14, y - 6, 3, "$faint")
        + disc(x - 26, y + 6, 4, "$brass", EDGE)
        + disc(x + 24, y + 6, 4, "$brass", EDGE)
    )


def _dial_motor(box: Box) -> str:
    x, y = box.middle[0], box.y + 34
    out = disc(x, y, 32, "$zinc", OUTLINE) + disc(x, y, 25, "none", FINE)
    teeth = "".join(line(*away(x + 12, y + 6, a, 9), *away(x + 12, y + 6, a, 13), 2) for a in range(0, 360, 45))
    return out + disc(x + 12, y + 6, 10, "$brass", EDGE) + teeth + disc(x + 12, y + 6, 2.4, "$ink", 0) + _shoulder(box)


def _selector(box: Box) -> str:
    x, y = box.middle[0], box.y + 42
    out = rect(Box(x - 44, box.y + 16, 88, box.h - 16), "$white", EDGE, 4) + shade_box(x - 43, box.bottom - 9, 86, 8)
    return (
        out
        + rect(Box(x - 6, box.y - 2, 12, 20), "$zinc", EDGE, 3)
        + disc(x, y, 15, "$enamel", EDGE)
        + line(x, y, x, y - 13, 3)
    )


def _button(box: Box) -> str:
    x = box.middle[0]
    out = rect(Box(x - 12, box.y - 4, 24, 26), "$zinc", EDGE, 4) + path(
        f"M{x - 8} {box.y + 26}l16 4-16 4 16 4", "none", 1.4
    )
    return (
        rect(Box(x - 42, box.y + 20, 84, box.h - 20), "$white", EDGE, 4)
        + out
        + shade_box(x - 41, box.bottom - 9, 82, 8)
    )


def _plunger(box: Box) -> str:
    x = box.middle[0]
    out = rect(Box(box.x + 8, box.y + 22, box.w - 16, box.h - 22), "$white", EDGE, 4) + shade_box(
        box.x + 9, box.bottom - 9, box.w - 18, 8
    )
    out += rect(Box(x - 5, box.y + 6, 10, 18), "$slate", EDGE, 3) + path(
        f"M{x - 34} {box.y + 22}L{x + 22} {box.y + 4}", "none", 4
    )
    return (
        out
        + path(f"M{x - 34} {box.y + 22}L{x + 22} {box.y + 4}", "none", 2, "$zinc")
        + disc(x - 34, box.y + 36, 4, "$zinc", FINE)
        + disc(x + 30, box.y + 50, 4, "$zinc", FINE)
    )


def _belt_lever(box: Box) -> str:
    x = box.middle[0]
    out = rect(Box(x - 42, box.y + 26, 84, box.h - 26), "$white", EDGE, 4) + shade_box(x - 41, box.bottom - 9, 82, 8)
    arm = f"M{x - 36} {box.y + 26}L{x + 30} {box.y + 2}"
    return (
        out
        + path(arm, "none", 8)
        + path(arm, "none", 5, "$enamel")
        + disc(x + 30, box.y + 2, 9, "$white", EDGE)
        + disc(x + 30, box.y + 2, 2.5, "$ink", 0)
    )


def _relay(box: Box) -> str:
    out = rect(Box(box.x + 8, box.y + 4, box.w - 16, box.h - 4), "$white", EDGE, 4) + shade_box(
        box.x + 9, box.bottom - 9, box.w - 18, 8
    )
    coil = Box(box.x + 20, box.y + 20, 40, 32)
    out += rect(coil, "$brass", EDGE, 3) + "".join(
        line(coil.x + 5 + k * 5, coil.y, coil.x + 5 + k * 5, coil.bottom, FINE) for k in range(7)
    )
    return (
        out
        + line(box.right - 34, box.y + 16, box.right - 34, box.y + 54, 2.4)
        + line(box.right - 24, box.y + 16, box.right - 24, box.y + 54, 2.4)
    )


def _relay_coil(box: Box) -> str:
    x, y = box.middle[0], box.y + 40
    coil = Box(x - 34, y - 24, 68, 44)
    out = rect(coil, "$brass", EDGE, 4) + "".join(
        line(coil.x + 6 + k * 6, coil.y, coil.x + 6 + k * 6, coil.bottom, FINE) for k in range(10)
    )
    return (
        rect(Box(x - 46, y - 30, 92, 8), "$zinc", EDGE, 2) + out + rect(Box(x - 46, y + 18, 92, 18), "$white", EDGE, 3)
    )


def _lamp(box: Box) -> str:
    x, y = box.middle[0], box.y + 26
    out = disc(x, y, 22, "$white", EDGE) + path(f"M{x - 8} {y + 10}l4-16 4 8 4-8 4 16", "none", 1.3)
    return (
        out
        + rect(Box(x - 12, y + 20, 24, 22), "$zinc", EDGE, 2)
        + "".join(line(x - 12, y + 26 + k * 6, x + 12, y + 26 + k * 6, FINE) for k in range(3))
        + _shoulder(box)
    )


def _board(box: Box) -> str:
    out = rect(Box(box.x, box.y, box.w, box.h - 2), "$enamel", EDGE, 3) + "".join(
        disc(x, y, 3, "$paper", FINE) for x in (box.x + 8, box.right - 8) for y in (box.y + 8, box.bottom - 34)
    )
    chip = Box(box.x + 28, box.y + 14, 34, 22)
    out += rect(chip, "$slate", EDGE, 2) + "".join(
        line(chip.x + 4 + 6 * k, chip.y - 4, chip.x + 4 + 6 * k, chip.y, 1.4)
        + line(chip.x + 4 + 6 * k, chip.bottom, chip.x + 4 + 6 * k, chip.bottom + 4, 1.4)
        for k in range(5)
    )
    out += disc(box.x + 88, box.y + 24, 12, "$zinc", EDGE) + disc(box.x + 88, box.y + 24, 5, "none", FINE)
    traces = f"M{box.x + 66} {box.y + 44}h{number(box.w - 110)}v-22M{box.x + 30} {box.y + 50}h{number(box.w - 60)}"
    return (
        out
        + path(traces, "none", 1, "$faint")
        + rect(Box(box.x + 8, box.bottom - 20, box.w - 16, 20), "$white", EDGE, 2)
    )


def _motor_pack(box: Box) -> str:
    out = rect(Box(box.x + 4, box.y + 16, box.w - 8, box.h - 16), "$white", EDGE, 4) + shade_box(
        box.x + 5, box.bottom - 9, box.w - 10, 8
    )
    return out + "".join(line(x, box.y + 26, x, box.y + 48, 1.2) for x in (box.x + 18, box.middle[0], box.right - 18))


def _splice(box: Box) -> str:
    x = box.middle[0]
    out = path(f"M{x - 13} {box.y + 18}q13-10 26 0v{box.h - 22}h-26z", "$straw", EDGE)
    return out + "".join(line(x - 13, box.y + 30 + k * 14, x + 13, box.y + 30 + k * 14, FINE) for k in range(3))


_BODIES: dict[str, Callable[[Box], str]] = {
    "cycling thermostat": _disc,
    "low thermostat": _disc,
    "high limit": _disc,
    "cut-off": _link,
    "manual cut-off": lambda box: _link(box, button=True),
    "thermal fuse": _link,
    "exhaust sensor": _sensor,
    "inlet sensor": _sensor,
    "bias heater": _resistor,
    "dial motor": _dial_motor,
    "selector contact": _selector,
    "coil contact": _selector,
    "selector changeover": _selector,
    "start switch": _button,
    "door switch": _plunger,
    "door switch with light": _plunger,
    "belt switch": _belt_lever,
    "lamp": _lamp,
    "board": _board,
    "relay coil": _relay_coil,
    "motor": _motor_pack,
    "motor contact": _motor_pack,
    "hold contact": _motor_pack,
    "splice": _splice,
    **dict.fromkeys(RELAYS, _relay),
}


def body(part: Component, box: Box) -> str:
    """Return the body of a part in ``box``; its blades' roots are on the lower edge."""
    return _BODIES.get(part.kind.name, _timer_bank)(box)


# --- what parts are mounted on -----------------------------------------------------------------------------------


def motor_backdrop() -> str:
    """Return the motor from the side, in its cradle: shell with slots, end bells, shaft and pulley with the belt."""
    out = rect(Box(44, 404, 632, 18), "$zinc", EDGE, 3) + shade("M46 414h628v6H46z", 0.2)
    for x in (112, 608):
        out += path(outline([(x - 20, 214), (x + 20, 214), (x + 46, 404), (x - 46, 404)]), "$zinc", EDGE)
        out += screw(x - 30, 413, "hex", 6) + screw(x + 30, 413, "hex", 6)
    out += path("M150 66h420q26 0 26 26v190q0 26-26 26H150q-26 0-26-26V92q0-26 26-26z", "$slate", OUTLINE)
    out += shade("M124 254h472v28q0 26-26 26H150q-26 0-26-26z", 0.3)
    out += "".join(rect(Box(238 + 36 * k, 92, 14, 60), "$ink", 0, 7) for k in range(7))
    out += path("M124 96q-34 6-34 71t34 71z", "$zinc", EDGE) + path("M596 96q34 6 34 71t-34 71z", "$zinc", EDGE)
    out += rect(Box(40, 158, 50, 18), "$zinc", EDGE, 2) + rect(Box(630, 158, 62, 18), "$zinc", EDGE, 2)
    out += rect(Box(656, 132, 30, 70), "$zinc", OUTLINE, 3) + "".join(
        line(656, 142 + 10 * k, 686, 142 + 10 * k, FINE) for k in range(6)
    )
    return out + belt_drawn("M662 40V126M680 40V126")


def blower_backdrop() -> str:
    """Return the blower's housing with the wheel behind its grille and the outlet along the bottom to the duct."""
    out = path("M60 214A144 144 0 0 1 348 214V236H712V364H204A144 144 0 0 1 60 214z", "$enamel", OUTLINE)
    out += shade("M64 246A144 144 0 0 0 204 364H712v-16H220Q90 340 64 246z") + disc(204, 160, 72, "$slate", OUTLINE)
    out += "".join(line(*away(204, 160, a, 22), *away(204, 160, a + 22, 68), 3, "$zinc") for a in range(0, 360, 24))
    return (
        out
        + disc(204, 160, 20, "$zinc", EDGE)
        + path(outline([(712, 228), (736, 220), (736, 380), (712, 372)]), "$zinc", EDGE)
    )


def console_backdrop(rows: int) -> str:
    """Return the console's tray."""
    top, bottom = (38.0, 492.0) if rows > 1 else (52.0, 302.0)
    tray, floor = Box(18, top, 724, bottom - top), Box(30, top + 12, 700, bottom - top - 24)
    return rect(tray, "$zinc", OUTLINE, 8) + rect(floor, "$enamel", FINE, 4)


def frame_backdrop() -> str:
    """Return the front's flange beside the door opening, with the door's edge and its strike above."""
    out = (
        rect(Box(40, 196, 680, 168), "$enamel", OUTLINE, 4)
        + path("M56 212H704", "none", FINE)
        + shade_box(41, 350, 678, 13)
    )
    out += (
        rect(Box(16, 56, 728, 74), "$enamel", OUTLINE, 10)
        + shade_box(18, 116, 724, 13)
        + rect(Box(340, 118, 80, 34), "$zinc", EDGE, 4)
    )
    return out + screw(70, 230, "Ph") + screw(690, 230, "Ph") + screw(70, 336, "Ph") + screw(690, 336, "Ph")


def idler_backdrop() -> str:
    """Return the idler on its arm, with the belt under it."""
    arm = "M290 140L600 330"
    out = rect(Box(440, 300, 280, 70), "$zinc", OUTLINE, 4) + path(arm, "none", 26) + path(arm, "none", 21, "$enamel")
    out += disc(290, 140, 58, "$white", OUTLINE) + disc(290, 140, 44, "none", FINE) + disc(290, 140, 12, "$zinc", EDGE)
    return out + belt_drawn("M228-10V140A62 62 0 0 0 352 140V-10") + screw(600, 330, "hex", 8)


def duct_backdrop() -> str:
    """Return the exhaust duct, cut open at both ends by the drawing's edge."""
    out = path("M0 84H760V330H0Z", "$zinc", OUTLINE) + shade("M0 280H760V330H0Z")
    return (
        out
        + "".join(line(x, 84, x, 330, FINE) for x in (90, 98, 662, 670))
        + screw(120, 106, "hex")
        + screw(640, 106, "hex")
    )


def base_backdrop() -> str:
    """Return the cabinet's base with a bracket."""
    return (
        rect(Box(0, 360, 760, 30), "$enamel", OUTLINE)
        + rect(Box(90, 110, 580, 250), "$zinc", EDGE, 4)
        + screw(112, 132, "hex")
        + screw(648, 132, "hex")
    )
