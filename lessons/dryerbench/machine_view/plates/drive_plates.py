"""Plates of what turns: the belt with its ribs over drum, pulley and idler, and the blower wheel on its shaft."""

from __future__ import annotations

from dryerbench.machine_view.geometry import Box, away, belt
from dryerbench.machine_view.plates.plate import Plate, bad_sign, good_sign
from dryerbench.machine_view.strokes import EDGE, FINE, OUTLINE, at, disc, line, path, rect, shade


def belt_run() -> Plate:
    """Return the belt's run from the end, and its two sides: ribs on drum and pulley, smooth back on the idler."""
    plate = Plate(
        560,
        "How the belt runs, and its two sides",
        "The belt wraps around the drum and around the small motor pulley. Its ribs are on the inside: ribs down "
        "on the drum, and in the grooves of the pulley. The idler is a wheel on a spring arm. It presses on the "
        "smooth back of the belt, so the belt is tight and lies farther around the pulley. Under the idler there "
        "are never ribs.",
    )
    drum, pulley, idler = (190.0, 170.0, 138.0), (226.0, 388.0, 17.0), (176.0, 372.0, 24.0)
    run = belt([(*drum, 1), (*pulley, 1), (*idler, -1)])
    plate.part("drum", Box(drum[0] - drum[2] - 7, drum[1] - drum[2] - 7, 2 * drum[2] + 14, 2 * drum[2] + 14))
    plate.add(disc(*drum, "$enamel", OUTLINE), disc(drum[0], drum[1], 118, "none", FINE))
    plate.add(rect(Box(160, 426, 160, 16), "$zinc", EDGE, 3), disc(pulley[0], pulley[1], 40, "$slate", OUTLINE))
    plate.add(path("M196 424l-8 4h76l-8-4z", "$zinc", EDGE))
    arm = f"M96 428L{idler[0]} {idler[1]}"
    plate.add(path(arm, "none", 15), path(arm, "none", 11, "$enamel"), disc(96, 428, 8, "$zinc", EDGE))
    plate.add(disc(*idler, "$white", OUTLINE), disc(idler[0], idler[1], 6, "$ink", 0))
    plate.add(disc(*pulley, "$zinc", OUTLINE), disc(pulley[0], pulley[1], 5, "$ink", 0))
    plate.add(
        path(run, "none", 10),
        path(run, "none", 6, "$tone-slate"),
        path(run, "none", 6, "$tracer-light", stroke_dasharray="1.6 6", cap="butt"),
    )
    spring = "M96 428" + "l-7-4 -3 9" * 5
    plate.add(path(spring, "none", 1.8))
    plate.say(190, 176, "drum", bold=True)
    plate.call(30, 360, "idler", (160, 366), (78, 356))
    plate.call(262, 482, "motor pulley", (232, 396), (276, 466), "middle")
    plate.call(24, 472, "spring arm", (120, 412), (70, 456))
    _sections(plate)
    return plate


def _sections(plate: Plate) -> None:
    for row, heading in enumerate(("On the drum", "On the pulley", "Under the idler")):
        plate.panel(Box(350, 14 + 180 * row, 198, 170), heading, heading)
    plate.add(_section(372, 74, 154), rect(Box(366, 103, 166, 22), "$enamel", EDGE, 2))
    plate.add(rect(Box(366, 268, 166, 40), "$zinc", EDGE, 2), _section(372, 254, 154))
    plate.add(rect(Box(366, 420, 166, 26), "$white", EDGE, 2), _section(372, 446, 154))
    for row, words in enumerate(("ribs down", "ribs in its grooves", "on the smooth back")):
        plate.say(449, 166 + 180 * row, words)


def _section(x: float, y: float, wide: float) -> str:
    """Return the belt cut across: its smooth back above and its ribs below."""
    ribs = 9
    step = wide / ribs
    data = (
        f"M{x} {y}H{x + wide}V{y + 16}"
        + f"l{-step * 0.2:g} 0l{-step * 0.25:g} 13h{-step * 0.1:g}l{-step * 0.25:g}-13h{-step * 0.2:g}" * ribs
        + "z"
    )
    return path(data, "$tone-slate", EDGE) + line(x + 4, y + 5, x + wide - 4, y + 5, FINE, "$tracer-light")


def blower_wheel() -> Plate:
    """Return the blower wheel in its housing, and its hub on the shaft: tight, and worn round."""
    plate = Plate(
        520,
        "The blower wheel on its shaft",
        "Top: the wheel is full of vanes and sits in its housing. Its hub is on the shaft of the motor. It "
        "throws the air out at the side. Bottom left, good: the hole of the hub has a flat side and so does the "
        "shaft. The wheel turns along. Bottom right, worn: the hole is round and wide. The shaft turns, and the wheel "
        "slips.",
    )
    plate.panel(Box(12, 12, 536, 268), "The wheel in its housing", "housing")
    x, y = 226.0, 164.0
    plate.add(
        path(f"M{x - 104} {y}A104 104 0 0 1 {x} 60H430V124H{x + 92}V{y}A98 98 0 0 1 {x - 104} {y}z", "$enamel", OUTLINE)
    )
    plate.add(shade(f"M{x - 100} {y + 24}A98 98 0 0 0 {x + 90} {y + 24}l2-24A98 98 0 0 1 {x - 104} {y}z"))
    plate.add(disc(x, y, 78, "$slate", OUTLINE), disc(x, y, 62, "$enamel", EDGE))
    plate.add("".join(_vane(x, y, turn) for turn in range(0, 360, 20)))
    plate.add(disc(x, y, 40, "$enamel", EDGE), disc(x, y, 22, "$white", EDGE), _shaft(x, y, 1.0))
    plate.add(rect(Box(430, 54, 12, 76), "$zinc", EDGE, 2))
    plate.add(path("M452 92h52m-14-10l14 10-14 10", "none", 3.4))
    plate.say(496, 68, "air out")
    plate.call(340, 206, "wheel, full of vanes", (x + 66, y + 26), (336, 200))
    plate.call(340, 240, "hub on the shaft", (x + 8, y + 8), (336, 234))
    plate.call(24, 76, "housing", (x - 86, y - 56), (92, 82))
    _hub(plate, 12, worn=False)
    _hub(plate, 284, worn=True)
    return plate


def _vane(x: float, y: float, turn: float) -> str:
    (ax, ay), (bx, by) = away(x, y, turn, 62), away(x, y, turn + 9, 76)
    return line(ax, ay, bx, by, 3, "$zinc")


def _shaft(x: float, y: float, scale: float) -> str:
    """Return the shaft end-on, with its flat above."""
    return at(x, y, path("M-7.4-7H7.4A10.2 10.2 0 1 1-7.4-7z", "$zinc", EDGE), scale=scale)


def _hub(plate: Plate, left: float, *, worn: bool) -> None:
    heading = "Worn: it slips" if worn else "Good: it turns along"
    plate.panel(Box(left, 292, 264, 216), heading, heading)
    plate.add((bad_sign if worn else good_sign)(left + 30, 316))
    x, y = left + 92.0, 416.0
    plate.add(disc(x, y, 62, "$white", OUTLINE), disc(x, y, 54, "none", FINE))
    if worn:
        plate.add(
            disc(x, y, 38, "$slate", EDGE),
            path(f"M{x - 36} {y + 12}q8 22 30 26M{x + 36} {y - 12}q-8-22-30-26", "none", FINE, "$white"),
        )
        plate.add(at(x + 6, y + 7, _shaft(0, 0, 2.6), degrees=40))
        plate.call(left + 174, 384, "round\nhole", (x + 30, y - 18), (left + 168, 384))
        plate.call(left + 174, 452, "shaft", (x + 20, y + 14), (left + 168, 448))
    else:
        plate.add(_shaft(x, y, 2.9))
        plate.call(left + 174, 384, "flat", (x + 14, y - 21), (left + 168, 382))
        plate.call(left + 174, 452, "shaft", (x + 14, y + 12), (left + 168, 448))
