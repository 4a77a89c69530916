"""Plates of the vent: its parts from the dryer to the hood, and what chokes it."""

from __future__ import annotations

from dryerbench.machine_view.geometry import Box
from dryerbench.machine_view.plates.plate import Plate, bad_sign, good_sign
from dryerbench.machine_view.strokes import EDGE, FINE, OUTLINE, disc, line, path, rect, shade_box


def vent_run() -> Plate:
    """Return the vent's run: dryer, transition duct, elbow, rigid duct in the wall, hood with its flap."""
    plate = Plate(
        400,
        "The vent from dryer to hood",
        "The air leaves the dryer low at the back. A listed transition duct takes it to the wall. In the wall an "
        "elbow turns it up. Rigid duct of smooth metal takes it on. A second elbow turns it outside. The hood "
        "has a flap. The air lifts it, and it falls shut when the dryer stops.",
    )
    plate.add(
        rect(Box(228, 20, 168, 340), "$enamel", EDGE),
        "".join(line(228, y, 396, y, FINE, "$faint") for y in range(48, 360, 28)),
    )
    plate.add(line(12, 360, 548, 360, OUTLINE))
    plate.part("dryer", Box(20, 150, 116, 206))
    plate.add(rect(Box(20, 150, 116, 206), "$zinc", OUTLINE, 4), rect(Box(20, 134, 116, 20), "$enamel", OUTLINE, 4))
    plate.add(shade_box(112, 156, 22, 196))
    plate.add(_ribbed(136, 316, 236))
    rigid = "M226 316H290Q314 316 314 292V110Q314 86 338 86H428"
    plate.add(path(rigid, "none", 42, cap="butt"), path(rigid, "none", 37, "$zinc", cap="butt"))
    for x, y, w, h in ((284, 294, 4, 44), (293, 262, 42, 4), (293, 140, 42, 4), (344, 64, 4, 44)):
        plate.add(rect(Box(x, y, w, h), "$enamel", FINE))
    plate.add(_hood(424, 86))
    plate.add(path("M480 150q26 20 44 40m-4-15l4 15-15-3", "none", 3))
    plate.say(78, 246, "dryer", bold=True)
    plate.say(180, 262, "transition\nduct")
    plate.call(420, 320, "elbow", (306, 308), (416, 314))
    plate.call(420, 232, "rigid duct", (322, 214), (416, 226))
    plate.call(440, 40, "hood, flap", (452, 72), (462, 46))
    plate.say(312, 386, "wall")
    plate.say(500, 386, "outside")
    return plate


def _ribbed(x: float, y: float, end: float) -> str:
    out = rect(Box(x, y - 19, end - x, 38), "$enamel", EDGE, 2)
    return out + "".join(path(f"M{k} {y - 19}q5 19 0 38", "none", FINE) for k in range(int(x) + 6, int(end), 8))


def _hood(x: float, y: float) -> str:
    out = rect(Box(x - 8, y - 36, 10, 92), "$white", EDGE, 2)
    out += path(f"M{x + 2} {y - 26}H{x + 34}Q{x + 58} {y - 22} {x + 60} {y + 44}H{x + 2}Z", "$white", OUTLINE)
    flap = f"M{x + 6} {y + 22}L{x + 50} {y + 70}"
    return out + path(flap, "none", 7) + path(flap, "none", 4, "$enamel") + disc(x + 6, y + 24, 4, "$zinc", EDGE)


def vent_parts() -> Plate:
    """Return vent parts by pairs: flap free and stuck, elbow wide and tight, transition duct whole and crushed."""
    plate = Plate(
        560,
        "Vent parts: good, and what blocks them",
        "Top: the flap of the hood lifts when the dryer runs. On the right it is stuck with lint and hardly "
        "opens. Middle: a wide elbow turns the air smoothly. A tight elbow has corners and takes more feet off "
        "the length. Bottom: a transition duct that is short and whole, and one that is crushed behind the dryer.",
    )
    for row, pair in enumerate((("Flap lifts", "Flap stuck"), ("Wide elbow", "Tight elbow"), ("Whole", "Crushed"))):
        for column, words in enumerate(pair):
            box = Box(12 + 272 * column, 12 + 182 * row, 264, 172)
            plate.panel(box, words, words)
            plate.add((bad_sign if column else good_sign)(box.x + 30, box.y + 24))
            x, y = box.x, box.y
            plate.add((_flaps, _elbows, _transitions)[row](x, y, bad=bool(column)))
    return plate


def _flaps(x: float, y: float, *, bad: bool) -> str:
    out = rect(Box(x + 24, y + 72, 76, 52), "$zinc", EDGE) + shade_box(x + 25, y + 110, 74, 13)
    out += rect(Box(x + 96, y + 46, 12, 112), "$white", EDGE, 2)
    out += path(f"M{x + 108} {y + 58}H{x + 150}Q{x + 182} {y + 62} {x + 184} {y + 140}H{x + 108}Z", "$white", OUTLINE)
    flap = f"M{x + 112} {y + 138}L{x + 172} {y + 154}" if bad else f"M{x + 116} {y + 92}L{x + 204} {y + 126}"
    out += path(flap, "none", 8) + path(flap, "none", 4.6, "$enamel")
    if bad:
        fluff = "q7-12 14-2q8-10 14 2q8-9 13 3q8 2 4 10q-22 12-46 2q-8-6 1-15z"
        return out + path(f"M{x + 118} {y + 132}{fluff}", "$straw", EDGE)
    return (
        out
        + "".join(path(f"M{x + 40} {y + k}h40m-10-7l10 7-10 7", "none", 2.4) for k in (98,))
        + path(f"M{x + 206} {y + 98}h36m-10-7l10 7-10 7", "none", 2.4)
    )


def _elbows(x: float, y: float, *, bad: bool) -> str:
    if bad:
        mitered = f"M{x + 36} {y + 102}H{x + 140}V{y + 44}H{x + 192}V{y + 154}H{x + 36}z"
        return path(mitered, "$zinc", EDGE) + line(x + 140, y + 102, x + 192, y + 154)
    data = f"M{x + 36} {y + 128}H{x + 90}Q{x + 166} {y + 128} {x + 166} {y + 54}V{y + 44}"
    out = path(data, "none", 52, cap="butt") + path(data, "none", 47, "$zinc", cap="butt")
    return out + path(f"M{x + 88} {y + 104}V{y + 152}M{x + 142} {y + 56}H{x + 190}", "none", FINE)


def _transitions(x: float, y: float, *, bad: bool) -> str:
    dryer = rect(Box(x + 20, y + 44, 44, 118), "$zinc", OUTLINE, 3) + shade_box(x + 50, y + 46, 12, 114)
    wall = rect(Box(x + 214, y + 40, 30, 124), "$enamel", EDGE)
    low, high = y + 78, y + 130
    if bad:
        mid, deep = x + 139, y + 105
        pinch = f"M{x + 64} {low}C{x + 110} {low} {x + 110} {deep - 6} {mid} {deep - 6}S{x + 170} {low} {x + 214} {low}"
        pinch += f"V{high}C{x + 170} {high} {x + 168} {deep + 6} {mid} {deep + 6}S{x + 110} {high} {x + 64} {high}z"
        folds = "".join(
            path(f"M{mid + way * k} {deep - half}q{-way * 5} {half} 0 {2 * half}", "none", FINE)
            for k, half in ((3, 5), (14, 6), (25, 10), (36, 15), (48, 20), (60, 23))
            for way in (-1, 1)
        )
        return path(pinch, "$enamel", OUTLINE) + folds + dryer + wall
    body = rect(Box(x + 64, low, 150, high - low), "$enamel", OUTLINE, 2)
    rings = "".join(path(f"M{x + k} {low}q7 26 0 52", "none", FINE) for k in range(74, 212, 10))
    return body + rings + dryer + wall
