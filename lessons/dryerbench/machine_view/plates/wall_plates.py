"""Plates of what is on the wall: the faces of receptacles, and the two ways to lock the power out.

The slots follow NEMA WD 6 from memory, unchecked, as in ``wall_parts``; volts are nominal (ANSI C84.1: 120/240 V).
"""

from __future__ import annotations

from dryerbench.machine_view.geometry import Box
from dryerbench.machine_view.plates.plate import SIZE, Plate
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
    shade_box,
    text,
)
from dryerbench.machine_view.wall_parts import receptacle_face, slots

_SCALE = 3.1
_LEVEL = 196.0


def receptacle_faces() -> Plate:
    """Return the faces with four slots and with three: what each slot is, and the volts between them."""
    plate = Plate(
        480,
        "Receptacle faces with four slots and with three",
        "Left, four slots: leg 1 and leg 2 are straight and upright. The neutral below is L-shaped, and the "
        "ground above is round. Right, three slots: leg 1 and leg 2 are slanted, the neutral is L-shaped, and "
        "there is no ground. On both: leg 1 to leg 2, 240 V. Either leg to neutral, 120 V. With four slots: leg "
        "to ground 120 V, neutral to ground 0 V.",
    )
    _face(plate, 142, "four-wire", "Four slots")
    _face(plate, 418, "three-wire", "Three slots")
    return plate


def _face(plate: Plate, x: float, kind: str, heading: str) -> None:
    plate.panel(Box(x - 130, 12, 260, 456), heading, heading)
    there = {slot: (x + dx, _LEVEL + dy) for slot, (dx, dy) in slots(kind, _SCALE).items()}
    plate.add(receptacle_face(x, _LEVEL, kind, _SCALE))
    (ax, y), (bx, _) = there["1"], there["2"]
    plate.add(line(ax + 16, y, bx - 16, y, 1.6, "$live"))
    for end, way in ((ax + 16, 1), (bx - 16, -1)):
        plate.add(path(f"M{end + way * 8} {y - 5}L{end} {y}L{end + way * 8} {y + 5}", "none", 1.6, "$live"))
    plate.add(rect(Box(x - 30, y - 13, 60, 25), "$white", FINE, 4))
    plate.say(x, y + 6, "240 V", bold=True)
    plate.call(x - 122, 98, "leg 1", (ax, y - 14), (x - 92, 104))
    plate.call(x + 122, 98, "leg 2", (bx, y - 14), (x + 92, 104), "end")
    nx, ny = there["N"]
    plate.call(x, 318, "neutral", (nx, ny + 4), (nx, 302), "middle")
    if "G" in there:
        plate.call(x, 66, "ground", there["G"], (x, 72), "middle")
    else:
        plate.say(x, 66, "no ground")
    rows = [("leg 1 to leg 2", "240 V"), ("leg to neutral", "120 V")]
    rows += [("leg to ground", "120 V"), ("neutral to ground", "0 V")] if "G" in there else []
    plate.add(line(x - 114, 338, x + 114, 338, FINE))
    for k, (pair, volts) in enumerate(rows):
        plate.say(x - 114, 366 + 28 * k, pair, "start")
        plate.say(x + 114, 366 + 28 * k, volts, "end", bold=True)


def lockout() -> Plate:
    """Return the breaker with lock and tag, and the plug in a locked cap."""
    plate = Plate(
        430,
        "Locked out: the breaker, and the plug",
        "Left, the breaker is off. A lock-off device holds it there, and your lock closes the device. Your tag "
        'hangs on it: "Do not turn on", my name, date. Right, the plug is out and sits in a cap. The cap is '
        "closed with your lock and has your tag. The key is in your pocket.",
    )
    plate.panel(Box(12, 12, 264, 406), "Breaker", "breaker panel")
    plate.panel(Box(284, 12, 264, 406), "Plug", "plug panel")
    _breaker(plate)
    _capped_plug(plate)
    return plate


def _breaker(plate: Plate) -> None:
    plate.add(rect(Box(40, 54, 208, 210), "$enamel", OUTLINE, 5), rect(Box(54, 68, 180, 182), "$zinc", EDGE, 3))
    for column, x in enumerate((62.0, 147.0)):
        for y in (74.0, 214.0):
            plate.add(rect(Box(x, y, 79, 30), "$slate", FINE, 3))
            plate.add(rect(Box(x + (58 if column == 0 else 8), y + 9, 13, 12), "$enamel", FINE))
    plate.add(rect(Box(62, 110, 164, 98), "$hole", EDGE, 4))
    plate.add(rect(Box(74, 138, 20, 42), "$white", EDGE, 3))
    plate.add(text(208, 167, "OFF", 22, "$on-slate", "end", 700))
    plate.add(path("M64 124h44v104h-44zM72 134v50h24v-50z", "$straw", EDGE, fill_rule="evenodd"))
    plate.add(_padlock(86, 216), path("M100 252q30 10 40 42", "none", 1.4), _tag(100, 292))
    plate.call(130, 402, "your lock, your tag", (86, 262), (64, 388), "middle")


def _capped_plug(plate: Plate) -> None:
    plate.add(cord("M416 62V150", 24))
    plate.add(rect(Box(352, 130, 128, 128), "$straw", OUTLINE, 12), shade_box(354, 240, 124, 16))
    plate.add(path("M384 150H448V196L432 222H400L384 196Z", "$slate", EDGE))
    plate.add("".join(rect(Box(x, 222, 8, 24), "$brass", FINE) for x in (394.0, 412.0, 430.0)))
    plate.add(line(352, 194, 384, 194, FINE), line(448, 194, 480, 194, FINE))
    plate.add(rect(Box(476, 178, 20, 34), "$zinc", EDGE, 3), disc(487, 204, 5, "$paper", FINE))
    plate.add(_padlock(487, 204), path("M474 240q-40 14-54 52", "none", 1.4), _tag(330, 292))
    plate.call(300, 92, "cap", (366, 142), (334, 96))
    plate.call(416, 402, "closed, key in your pocket", (487, 250), (500, 386), "middle")


def _padlock(x: float, y: float) -> str:
    hasp = f"M{x - 12} {y + 24}v-20a12 12 0 0 1 24 0v20"
    out = path(hasp, "none", 7.5) + path(hasp, "none", 4.4, "$zinc")
    out += rect(Box(x - 21, y + 22, 42, 36), "$brass", EDGE, 5) + shade_box(x - 20, y + 48, 40, 9)
    return out + disc(x, y + 36, 4, "$ink", 0) + line(x, y + 36, x, y + 47, 2.6)


def _tag(x: float, y: float) -> str:
    card = path("M0 0H150V70H0L-12 58V12Z", "$straw", EDGE) + disc(-2, 35, 4, "$paper", FINE)
    card += text(74, 28, "DO NOT TURN ON", 16, "$on-straw", "middle", 700)
    return at(x, y, card + text(74, 54, "my name, date", SIZE, "$on-straw", "middle", 400), degrees=2)
