"""Plates of the heater: boxes with one, two and three coils and their terminals, a good spade and a burnt one."""

from __future__ import annotations

from dryerbench.family.arrangement import Mark
from dryerbench.machine_view.fittings import connector, spade
from dryerbench.machine_view.geometry import Box
from dryerbench.machine_view.plates.plate import Plate, bad_sign, good_sign
from dryerbench.machine_view.strokes import EDGE, FINE, OUTLINE, at, disc, line, path, rect, tube

_LEFT, _RIGHT = 74.0, 346.0
_BOARD = 366.0


def heater_boxes() -> Plate:
    """Return heater boxes with one, two and three coils: which terminals there are, and which one is shared."""
    plate = Plate(
        622,
        "Heater boxes with one, two and three coils",
        "Top, one coil: two terminals, T1 and T2, and none is shared. Middle, two coils: three terminals. Each "
        "coil starts at its own terminal, T1 or T2, and both end at the shared one, T0. Bottom, three coils: four "
        "terminals. T1, T2 and T3 have one coil each, and all three end at T0. From T0 to another terminal you "
        "read one coil. Between two others you read two coils in series. In a real dryer the terminals have no "
        "names.",
    )
    _coil_box(plate, 12, 1, "One coil: two terminals, none shared")
    _coil_box(plate, 176, 2, "Two coils: three terminals, one shared")
    _coil_box(plate, 378, 3, "Three coils: four terminals, one shared")
    return plate


def _coil_box(plate: Plate, top: float, coils: int, heading: str) -> None:
    rows = coils + 1
    deep = 32.0 + 38.0 * rows
    plate.panel(Box(12, top, 536, deep + 48), heading, heading)
    box = Box(28, top + 38, 376, deep - 4)
    plate.add(rect(box, "$zinc", OUTLINE, 4), rect(Box(48, box.y + 10, 312, deep - 24), "$slate", EDGE, 5))
    plate.add(rect(Box(_BOARD, box.y + 8, 26, deep - 20), "$white", EDGE, 3))
    levels = [box.y + 32 + 38 * row for row in range(rows)]
    for row, level in enumerate(levels[:-1]):
        plate.add(
            _coil(level),
            _post(_LEFT - 12, level),
            line(_RIGHT, level, _BOARD, level, 5),
            line(_RIGHT, level, _BOARD, level, 2.8, "$zinc"),
        )
        plate.add(_terminal(level, f"T{row + 1}", plate, shared=False))
    low = levels[-1]
    bar = f"M{_LEFT} {levels[0]}V{low}H{_BOARD}"
    plate.add(path(bar, "none", 6.5), path(bar, "none", 4, "$brass"))
    for level in levels[:-1]:
        plate.add(disc(_LEFT, level, 5, "$brass", EDGE))
    plate.add(_terminal(low, "T2" if coils == 1 else "T0, shared", plate, shared=coils > 1))


def _coil(level: float) -> str:
    turns = 15
    step = (_RIGHT - _LEFT - 20) / turns
    data = f"M{_LEFT} {level}h10" + f"q{step * 0.3:g}-24 {step * 0.6:g} 0t{step * 0.4:g} 0" * turns + "h10"
    return path(data, "none", 4.6) + path(data, "none", 2.6, "$white")


def _post(x: float, level: float) -> str:
    return rect(Box(x - 6, level - 9, 12, 18), "$white", FINE, 3)


def _terminal(level: float, words: str, plate: Plate, *, shared: bool) -> str:
    blade = at(_BOARD + 26, level, spade(0, 0, 0), scale=1.15)
    if shared:
        plate.add(rect(Box(_BOARD + 64, level - 13, 100, 26), "$straw", FINE, 5))
        plate.word(_BOARD + 114, level + 6, words, 17, "middle", 700, "$on-straw")
    else:
        plate.say(_BOARD + 72, level + 6, words, "start")
    return blade


def spades() -> Plate:
    """Return a good spade on its terminal, and a burnt, loose one."""
    plate = Plate(
        420,
        "A good spade and a burnt one",
        "Top, good: the terminal is bright metal, the clean sleeve is whole, and the spade sits tight, all the "
        "way on. Bottom, burnt: it got hot. The terminal is dark and notched, the brown sleeve has sagged, and "
        "the spade sits loose with soot around it. Replace the spade and the part that its terminal belongs to.",
    )
    _joint(plate, 12, burnt=False)
    _joint(plate, 216, burnt=True)
    return plate


def _joint(plate: Plate, top: float, *, burnt: bool) -> None:
    heading = "Burnt: loose, and it got hot" if burnt else "Good: bright and tight"
    plate.panel(Box(12, top, 536, 192), heading, heading)
    plate.add((bad_sign if burnt else good_sign)(40, top + 24))
    y = top + 104
    for x, pulled in ((62.0, True), (352.0, False)):
        plate.add(rect(Box(x - 44, y - 42, 30, 84), "$white", EDGE, 4))
        plate.add(at(x, y, spade(0, 0, 0, burnt=burnt), scale=2.0))
        gap = 76.0 if pulled else 8.0 if burnt else 0.0
        drop = 8.0 if burnt and not pulled else 0.0
        wire = f"M{x + gap + 94} {y + drop}q20 0 28 {20 if burnt else 0}t22 {8 if burnt else 0}"
        plate.add(
            tube(wire, Mark("black", "plain"), 9), at(x + gap, y + drop, connector(0, 0, 0, burnt=burnt), scale=2.0)
        )
    words = ("dark, notched", "brown sleeve", "loose") if burnt else ("bright metal", "clean sleeve", "all the way on")
    plate.call(86, top + 176, words[0], (98, y + 8), (98, top + 160), "middle")
    plate.call(214, top + 176, words[1], (186, y + 14), (206, top + 160), "middle")
    plate.call(420, top + 176, words[2], (396, y + 18), (420, top + 160), "middle")
