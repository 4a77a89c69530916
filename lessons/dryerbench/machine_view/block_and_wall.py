"""The terminal block with cord, strap or bond, and the wall with receptacle and plug, close up."""

from __future__ import annotations

from dryerbench.family.arrangement import Mark
from dryerbench.machine_view.fittings import tag, tag_box
from dryerbench.machine_view.geometry import Box, number, rounded, word_width
from dryerbench.machine_view.held_tools import tip_on
from dryerbench.machine_view.scene import CORD, GROUND
from dryerbench.machine_view.spots import WALL_SLOTS
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
    screw,
    shade,
    shade_box,
    tube,
)
from dryerbench.machine_view.terminals import CloseUp, draw_bare_metal, draw_covered, draw_loom
from dryerbench.machine_view.wall_parts import receptacle_face, slots
from dryerbench.machine_view.wire_grips import Way

_POSTS = (220.0, 360.0, 500.0)
_BLOCK = Box(140, 150, 440, 190)
_CORD_MARKS = (Mark("black", "plain"), Mark("white", "plain"), Mark("slate", "plain"))
_BARE = Mark("bare", "strap")
_METAL = (650.0, 380.0)
_BELOW_POST = 50.0
"""How far from its ring a wire has left the block."""


def draw_block(shown: CloseUp) -> None:
    """Draw the block: three posts with the cord's rings above and the harness below, and the cabinet's screw."""
    drawing, four = shown.drawing, shown.own.arrangement.cord == "four-wire"
    if not shown.bare("block"):
        draw_covered(shown, Box(96, 96, 600, 340))
        return
    drawing.add(rect(Box(96, 96, 600, 340), "$zinc", OUTLINE, 4), shade_box(97, 424, 598, 11))
    drawing.add(
        rect(Box(318, -8, 84, 56), "$hole", EDGE, 8), cord("M360 -10V66", 34), line(330, 26, 390, 26, 2, "$zinc")
    )
    draw_loom(drawing, 520)
    drawing.part("block", _BLOCK)
    drawing.add(rect(_BLOCK, "$white", OUTLINE, 6), shade_box(_BLOCK.x + 2, _BLOCK.bottom - 14, _BLOCK.w - 4, 12))
    drawing.add("".join(line(x, _BLOCK.y + 8, x, _BLOCK.bottom - 20, 4) for x in (290.0, 430.0)))
    for place, x in enumerate(_POSTS):
        _harness(shown, f"block-{place + 1}", x)
    for x in _POSTS:
        drawing.add(rect(Box(x - 44, 170, 88, 130), "$brass", EDGE, 5), shade_box(x - 43, 288, 86, 11))
    for place, (x, mark, start) in enumerate(zip(_POSTS, _CORD_MARKS, (346.0, 360.0, 374.0), strict=True), start=1):
        corners = ((start, 66.0), (start, 92.0), (x, 92.0), (x, 176.0))
        drawing.add(tube(rounded(corners, 16), mark, 9))
        shown.ways.append(Way(f"{CORD}@{shown.points[f'block-{place}']}", corners, mark, 9, first=56.0))
    _ground(shown, four=four)
    for place, x in enumerate(_POSTS):
        _post(shown, f"block-{place + 1}", x, place)
    draw_bare_metal(shown, *_METAL)


def _ground(shown: CloseUp, *, four: bool) -> None:
    drawing = shown.drawing
    x, y = _METAL
    if not four:
        strap = f"M{_POSTS[1]} 262V{y}H{x}"
        drawing.add(path(strap, "none", 17), path(strap, "none", 14, "$brass"), disc(x, y, 19, "$brass", EDGE))
        return
    off = GROUND in shown.scene.pulled
    end = (x - 6, y - 92) if off else (x, y)
    corners = ((388.0, 66.0), (388.0, 80.0), (636.0, 80.0), (636.0, 220.0), (end[0], 270.0), end)
    drawing.add(tube(rounded(corners, 18), _BARE, 7))
    shown.ways.append(Way(GROUND, corners, _BARE, 7, first=330.0))
    drawing.add(disc(*end, 19, "$brass", EDGE) + (disc(*end, 9, "$zinc", EDGE) if off else ""))


def _harness(shown: CloseUp, spot: str, x: float) -> None:
    """Draw the harness' wires of a post, each with its ring under the lower screw."""
    point = shown.points[spot]
    wires = shown.wires(point)
    for place, (wire, mark) in enumerate(wires):
        across = x + (place - (len(wires) - 1) / 2) * 24
        off = shown.is_off(wire, point)
        top = 372.0 if off else 270.0
        corners = ((across if off else x, top), (across, top + 20), (across, 520.0))
        shown.drawing.add(tube(rounded(corners[::-1], 10), mark, 5.5))
        shown.ways.append(Way(shown.way_key(wire, point), corners, mark, 5.5, first=_BELOW_POST))
        if off:
            shown.drawing.add(disc(across, top, 9, "$brass", EDGE), disc(across, top, 4, "$zinc", FINE))


def _post(shown: CloseUp, spot: str, x: float, place: int) -> None:
    drawing, scene = shown.drawing, shown.scene
    point = shown.points[spot]
    if point in scene.burnt:
        drawing.add(path(f"M{x - 50} 200q10-30 50-34t52 30q8 60-44 66t-58-62z", "$scorch", 0, fill_opacity=0.5))
    drawing.add(
        disc(x, 186, 19, "$brass", EDGE),
        screw(x, 186, "hex", 12),
        disc(x, 262, 17, "$zinc", FINE),
        screw(x, 262, "hex", 11),
    )
    words = scene.tags.get(point, "")
    if words:
        drawing.add(tag(x, 402, words))
        drawing.part(f"tag {spot}", tag_box(x, 402, words))
    spoken = f"terminal block, post {place + 1} of 3, from the left" + (f", tagged {words}" if words else "")
    shown.point(spot, spoken, x, 224, chosen=scene.marks(point))
    for bands, tip in enumerate(scene.probes, start=1):
        if tip == point:
            drawing.add_over(tip_on(x, 224, bands))


# --- the wall ----------------------------------------------------------------------------------------------------

_SLOT_WORDS = ("slot", "blade")
_FACE = (214.0, 284.0)
_SCALE = 4.6


def draw_wall_close(shown: CloseUp) -> None:
    """Draw the receptacle with its slots, and beside it the plug: in the receptacle, or out with its blades."""
    drawing, kind = shown.drawing, shown.own.arrangement.cord
    x, y = _FACE
    plate = Box(x - 160, y - 176, 320, 352)
    drawing.part("receptacle", plate)
    drawing.add(rect(plate, "$white", OUTLINE, 12), shade_box(plate.x + 2, plate.bottom - 16, plate.w - 4, 14))
    drawing.add(screw(x, plate.y + 20, "Ph", 7), screw(x, plate.bottom - 30, "Ph", 7))
    if shown.scene.plugged:
        drawing.add(disc(x, y, 29 * _SCALE, "$enamel", EDGE))
        drawing.add(cord(f"M{x} {y + 60}V570", 40), _plug_back(x, y))
        shown.ways.append(Way(CORD, ((x, y + 130), (x, 560.0)), None, 40, first=70.0))
        drawing.word(x, 80, "plug in", 15, "middle", 600)
        if shown.scene.splitter:
            _splitter(shown)
        return
    drawing.add(receptacle_face(x, y, kind, _SCALE))
    _targets(shown, "wall", "slot", x, y)
    px = 556.0
    drawing.part("plug", Box(px - 132, y - 132, 264, 264))
    shown.ways.append(Way(CORD, ((px, y + 130), (px, 560.0)), None, 40, first=70.0))
    drawing.add(cord(f"M{px} {y + 110}V570", 40), disc(px, y, 128, "$slate", OUTLINE))
    drawing.add(shade(f"M{px - 128} {y}a128 128 0 0 0 256 0z", 0.22), disc(px, y, 112, "none", FINE, "$zinc"))
    drawing.add(_blades(px, y, kind))
    _targets(shown, "plug", "blade", px, y)
    drawing.word(x, 80, "receptacle", 15, "middle", 600)
    drawing.word(px, 80, "plug, blades toward you", 15, "middle", 600)


_SPLITTER = Box(452, 150, 250, 268)
_LOOPS = (507.0, 577.0, 647.0)
"""How far to the right each conductor of the cord lies open in the line splitter: leg, neutral, leg."""


def _splitter(shown: CloseUp) -> None:
    """Draw the line splitter on its stretch of the cord: each insulated conductor in a bay of its own."""
    drawing, box = shown.drawing, _SPLITTER
    drawing.part("splitter", box)
    drawing.word(box.middle[0], 80, "line splitter", 15, "middle", 600)
    drawing.add(cord(f"M{box.middle[0]} 100V160", 30), cord(f"M{box.middle[0]} 410V470", 30))
    drawing.add(rect(box, "$white", OUTLINE, 12), shade_box(box.x + 2, box.bottom - 14, box.w - 4, 12))
    for place, (x, mark) in enumerate(zip(_LOOPS, _CORD_MARKS, strict=True), start=1):
        drawing.add(rect(Box(x - 26, box.y + 40, 52, 188), "$hole", EDGE, 14))
        corners = ((x, box.y + 24), (x, box.bottom - 24))
        drawing.add(tube(rounded(corners), mark, 11))
        shown.ways.append(Way(f"{CORD}@splitter-{place}", corners, mark, 11, first=90.0))


def _plug_back(x: float, y: float) -> str:
    body = f"M{x - 96} {y - 80}H{x + 96}V{y + 30}L{x + 50} {y + 130}H{x - 50}L{x - 96} {y + 30}Z"
    return (
        path(body, "$slate", OUTLINE)
        + shade(f"M{x - 96} {y + 10}H{x + 96}V{y + 30}L{x + 50} {y + 130}H{x - 50}L{x - 96} {y + 30}Z", 0.25)
        + "".join(line(x + k, y - 40, x + k, y + 10, 3, "$zinc") for k in (-50, 0, 50))
    )


def _blades(x: float, y: float, kind: str) -> str:
    """Return the plug's blades end-on: the receptacle's slots, mirrored, because one looks from the other side."""
    lean = 0.0 if kind == "four-wire" else 28.0
    out, k = "", _SCALE
    for slot, (dx, dy) in slots(kind, k).items():
        if slot in "12":
            way = -1 if slot == "1" else 1
            out += at(x - dx, y + dy, rect(Box(-3 * k, -9 * k, 6 * k, 18 * k), "$brass", EDGE, 3), degrees=way * lean)
        elif slot == "N":
            data = f"M{number(x - dx + 5 * k)} {number(y + dy + 8 * k)}v{number(-8 * k)}h{number(-10 * k)}"
            out += path(data, "none", 5.6 * k, cap="butt") + path(data, "none", 5 * k, "$brass", cap="butt")
        else:
            out += disc(x - dx, y + dy, 5 * k, "$zinc", EDGE)
    return out


def _targets(shown: CloseUp, what: str, word: str, x: float, y: float) -> None:
    kind = shown.own.arrangement.cord
    there = slots(kind, _SCALE)
    for place, slot in enumerate(WALL_SLOTS[kind], start=1):
        dx, dy = there[slot]
        spot = f"{what}-{place}"
        point = shown.points[spot]
        px, py = (x + dx, y + dy) if what == "wall" else (x - dx, y + dy)
        name = shown.scene.tags.get(point, "")
        if name:
            _slot_name(shown, name, px, py, above=dy < 0 and dx == 0)
        spoken = f"{word} {place} of {len(there)}" + (f", {name}" if name else "")
        shown.point(spot, spoken, px, py, chosen=shown.scene.marks(point))
        for bands, tip in enumerate(shown.scene.probes, start=1):
            if tip == point:
                shown.drawing.add_over(tip_on(px, py, bands))


def _slot_name(shown: CloseUp, name: str, x: float, y: float, *, above: bool) -> None:
    """Write a slot's or a blade's name beside it: for a lesson that teaches with names."""
    wide, level = word_width(name, 13, bold=True) + 10, y + (-34 if above else 58)
    shown.drawing.add(rect(Box(x - wide / 2, level - 13, wide, 18), "$straw", FINE, 3))
    shown.drawing.word(x, level, name, 13, "middle", 600, "$on-straw")
