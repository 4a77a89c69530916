"""Covers on the machine and laid aside, their screws, and the tray with its tally."""

from __future__ import annotations

from collections.abc import Sequence

from dryerbench.family.arrangement import Cover
from dryerbench.family.own_machine import OwnMachine
from dryerbench.machine_view.covers import CABINET_BOX, CONSOLE_BOX, lies_on, region
from dryerbench.machine_view.drawing import Drawing
from dryerbench.machine_view.geometry import Box, Place, outline, wrapped
from dryerbench.machine_view.strokes import (
    EDGE,
    FINE,
    OUTLINE,
    at,
    disc,
    line,
    path,
    rect,
    screw,
    screw_hole,
    shade,
    shade_box,
)

SHELF = Box(12, 132, 252, 358)
"""Where covers that are off stand and lie."""
_SCALE = 0.56
_SMALL_SHELF = 268.0


def heads(cover: Cover) -> list[str]:
    """Return the head of every screw of a cover."""
    return [head for count, head in cover.screws for _ in range(count)]


def screw_places(box: Box, count: int) -> list[Place]:
    """Return where ``count`` screws sit round the edge of a cover."""
    inset = 9.0 if min(box.w, box.h) > 40 else min(box.w, box.h) / 2
    left, right, top, bottom = box.x + inset, box.right - inset, box.y + inset, box.bottom - inset
    if box.h <= 40:
        return [(left + (right - left) * k / max(count - 1, 1), box.y + box.h / 2) for k in range(count)]
    if box.w <= 40:
        return [(box.x + box.w / 2, top + (bottom - top) * k / max(count - 1, 1)) for k in range(count)]
    if count == 1:
        return [((left + right) / 2, top)]
    if count == 2:
        return [(left, top), (right, top)]
    if count == 3:
        return [(left, top), (right, top), (right, bottom)]
    spare = count - 4
    below = (spare + 1) // 2
    found = [(left, top), (right, top), (left, bottom), (right, bottom)]
    found += [(left + (right - left) * (k + 1) / (below + 1), bottom) for k in range(below)]
    return found + [(left + (right - left) * (k + 1) / (spare - below + 1), top) for k in range(spare - below)]


def door_on(box: Box) -> str:
    """Return the cut-cornered door of a front."""
    w, h = min(190.0, box.w - 56), min(168.0, box.h - 50)
    x, y, cut = box.x + (box.w - w) / 2, box.y + 24, 18.0
    corners = [
        (x + cut, y),
        (x + w - cut, y),
        (x + w, y + cut),
        (x + w, y + h - cut),
        (x + w - cut, y + h),
        (x + cut, y + h),
        (x, y + h - cut),
        (x, y + cut),
    ]
    inner = [((px - x - w / 2) * 0.9 + x + w / 2, (py - y - h / 2) * 0.9 + y + h / 2) for px, py in corners]
    out = path(outline(corners), "$paper", EDGE) + path(outline(inner), "none", FINE)
    out += rect(Box(x + w - 26, y + h / 2 - 30, 11, 60), "$zinc", EDGE, 5) + shade_box(
        x + w - 20, y + h / 2 - 28, 4, 56
    )
    return out + "".join(rect(Box(x - 7, py, 8, 26), "$zinc", FINE, 2) for py in (y + 24, y + h - 50))


def louvers(box: Box, count: int = 5) -> str:
    """Return the slots of a rear panel."""
    wide = min(70.0, box.w - 60)
    return "".join(
        rect(Box(box.x + (box.w - wide) / 2, box.y + 34 + k * 12, wide, 5), "$slate", FINE, 2.5) for k in range(count)
    )


def console_front(box: Box, *, board: bool, dial_turn: float = -60.0) -> str:
    """Return the console's face: a dial, or a window and buttons where a board runs the machine."""
    x, y, w, h = box.x, box.y, box.w, box.h
    out = path(f"M{x} {y + h + 4}V{y + 12}q0-12 12-12h{w - 24}q12 0 12 12v{h - 8}z", "$enamel", OUTLINE)
    out += shade_box(x + 1, y + h - 8, w - 2, 11) + rect(Box(x + 14, y + 10, w - 28, h - 26), "$paper", FINE, 4)
    if board:
        out += rect(Box(x + 28, y + 19, 66, 22), "$slate", EDGE, 3)
        out += "".join(disc(x + 124 + k * 30, y + 30, 9, "$zinc", EDGE) for k in range(4))
        return out
    cx, cy = x + w * 0.28, y + 30
    out += disc(cx, cy, 18, "$enamel", EDGE) + disc(cx, cy, 11, "$white", EDGE)
    out += at(cx, cy, line(0, 0, 11, 0, 2), degrees=dial_turn)
    return out + "".join(rect(Box(x + w * 0.54 + k * 36, y + 23, 26, 14), "$zinc", EDGE, 7) for k in range(3))


def console_rear(box: Box) -> str:
    """Return the console's back."""
    x, y, w, h = box.x, box.y, box.w, box.h
    out = path(f"M{x} {y + h + 4}V{y + 12}q0-12 12-12h{w - 24}q12 0 12 12v{h - 8}z", "$enamel", OUTLINE)
    return out + rect(Box(x + 12, y + 10, w - 24, h - 18), "none", FINE, 3) + shade_box(x + 1, y + h - 8, w - 2, 11)


def sheet(box: Box) -> str:
    """Return a panel of painted metal with its folded edge."""
    out = rect(box, "$enamel", OUTLINE, 3) + shade_box(box.x + 1, box.bottom - 9, box.w - 2, 8)
    inset = 5 if min(box.w, box.h) > 40 else 3
    return out + rect(Box(box.x + inset, box.y + inset, box.w - 2 * inset, box.h - 2 * inset), "none", FINE, 2)


def face(own: OwnMachine, cover: Cover, box: Box, side: str) -> str:
    """Return a cover's face, in the box it takes."""
    words = cover.name.split()
    if box == CONSOLE_BOX or any(word in ("console", "fascia", "strip") for word in words):
        return console_rear(box) if side == "rear" else console_front(box, board=own.arrangement.board)
    if words[0] == "top":
        return rect(box, "$enamel", OUTLINE, 4)
    drawn = sheet(box)
    if "toe" in words:
        return drawn + "".join(
            line(
                box.x + box.w * 0.36,
                box.y + box.h * 0.45 + k * 8,
                box.x + box.w * 0.64,
                box.y + box.h * 0.45 + k * 8,
                2,
            )
            for k in range(3)
        )
    if side == "front" and box.h > 150:
        return drawn + door_on(box)
    if side == "rear" and box.h > 120 and box.w > 100:
        return drawn + louvers(box, 6 if box.h > 200 else 4)
    return drawn


def on_machine(own: OwnMachine, cover: Cover, box: Box, side: str, out: int) -> str:
    """Return a cover in its place, with ``out`` of its screws out."""
    every = heads(cover)
    drawn = face(own, cover, box, side)
    for place, ((x, y), head) in enumerate(zip(screw_places(box, len(every)), every, strict=True)):
        drawn += screw_hole(x, y, 3.6) if place < out else screw(x, y, head, 3.6)
    return drawn


def _aside_size(own: OwnMachine, cover: Cover) -> tuple[float, float, bool]:
    """Return width and height of a cover laid aside, and whether it stands on its end."""
    box = region(own, cover)
    if box is None or (box.w < 90 and box.h < 120):
        return 80.0, 62.0, False
    w, h = box.w * _SCALE, max(box.h * _SCALE, 30.0)
    if w > h:
        return h, w, True
    return w, h, False


def laid_aside(own: OwnMachine, covers: Sequence[Cover]) -> dict[str, tuple[Box, bool]]:
    """Return where each cover that is off stands or lies, and whether it stands on its end."""
    sizes = {cover.name: _aside_size(own, cover) for cover in covers}
    small = [cover.name for cover in covers if sizes[cover.name][1] <= 62]
    large = sorted((cover.name for cover in covers if cover.name not in small), key=lambda name: -sizes[name][0])
    found = {}
    beside = any((where := region(own, cover)) is not None and where.x < CABINET_BOX.x - 10 for cover in own.covers)
    x = SHELF.right - (24 if beside else 0)
    for name in large:
        w, h, turned = sizes[name]
        pitch = max(w, 42.0)
        x -= pitch
        found[name] = (Box(x + (pitch - w) / 2, SHELF.bottom - h, w, h), turned)
        x -= 9
    x = SHELF.right - (32 if beside else 8)
    for name in small:
        w, h, turned = sizes[name]
        x -= w
        found[name] = (Box(x, _SMALL_SHELF - h, w, h), turned)
        x -= 14
    return found


def draw_aside(drawing: Drawing, own: OwnMachine, covers: Sequence[Cover], side: str) -> None:
    """Draw the covers that are off where they were put, each with a strip of tape that says which it is."""
    there = laid_aside(own, covers)
    if any(box.bottom <= _SMALL_SHELF for box, _ in there.values()):
        right = max(box.right for box, _ in there.values() if box.bottom <= _SMALL_SHELF) + 6
        drawing.add(rect(Box(SHELF.x + 20, _SMALL_SHELF, right - SHELF.x - 20, 7), "$zinc", EDGE, 1))
        drawing.add(
            "".join(path(f"M{x} {_SMALL_SHELF + 7}v12l-8-12z", "$zinc", FINE) for x in (SHELF.x + 60, right - 24))
        )
    for cover in covers:
        box, turned = there[cover.name]
        drawing.part(f"aside {cover.name}", box)
        with drawing.moving(f"cover {cover.name}", *box.middle, box.h if turned else box.w):
            drawing.add(_standing(own, cover, box, side, turned=turned))
            _tape(drawing, cover.name, box)


def _standing(own: OwnMachine, cover: Cover, box: Box, side: str, *, turned: bool) -> str:
    where = region(own, cover)
    if where is None or lies_on(cover) or where.w < 90 > where.h:
        return sheet(box)
    if where.w < 60:
        return sheet(box)
    lip = box.w * 0.4
    if where.y < CABINET_BOX.y and where.h < 40:
        return path(
            f"M{box.x} {box.bottom}v{6 - box.h}q0-6 6-6h{box.w - 6}v12h{-lip:g}v{box.h - 24}h{lip:g}v12z",
            "$enamel",
            OUTLINE,
        )
    full = Box(0, 0, where.w, where.h)
    every = heads(cover)
    drawn = face(own, cover, full, side) + "".join(screw_hole(x, y, 5) for x, y in screw_places(full, len(every)))
    if turned:
        return at(box.x, box.bottom, drawn, degrees=-90, scale=_SCALE)
    return at(box.x, box.y, drawn, scale=_SCALE)


def _tape(drawing: Drawing, words: str, box: Box) -> None:
    upright = box.w < 52 and box.h > 100
    size = 12.0
    if upright:
        lines = wrapped(words, box.h - 50, size, bold=True)
        x = box.x + box.w / 2
        drawing.add(rect(Box(x - 8 * len(lines), box.y + 5, 16 * len(lines), box.h - 46), "$straw", FINE))
        drawing.upright_words(x, (box.y + 5 + box.bottom - 41) / 2, lines, size)
        return
    lines = wrapped(words, box.w - 8, size, bold=True)
    top = box.y + (8 if box.h < 100 else 14)
    drawing.add(rect(Box(box.x + 2, top - 3, box.w - 4, 15 * len(lines) + 4), "$straw", FINE))
    for k, words_of_line in enumerate(lines):
        drawing.word(box.x + box.w / 2, top + 9.5 + 15 * k, words_of_line, size, "middle", 600, "$on-straw")


TRAY_BOTTOM, TRAY_LEFT = 552.0, 560.0


def tray_box(rows: int) -> Box:
    """Return the box of the tray with ``rows`` compartments."""
    high = 14 + 27.5 * max(rows, 1.4)
    return Box(TRAY_LEFT, TRAY_BOTTOM - high, 188, high)


def draw_tray(drawing: Drawing, tally: Sequence[tuple[Cover, int]]) -> None:
    """Draw the tray with the screws that are out, a compartment for each cover, and how many of how many."""
    box = tray_box(len(tally))
    x, y, w, h = box.x, box.y, box.w, box.h
    drawing.part("tray", box)
    drawing.add(
        path(f"M{x} {y}h{w}l-6 {h}h{12 - w}z", "$zinc", OUTLINE),
        path(f"M{x + 6} {y + 5}h{w - 12}l-5 {h - 10}h{22 - w}z", "$enamel", FINE),
    )
    drawing.add(shade(f"M{x + 6} {y + 5}h{w - 12}l-1 5h{14 - w}z"))
    if not tally:
        drawing.word(x + w / 2, y + h / 2 + 4, "no screws out", 12.5, "middle")
    for row, (cover, out) in enumerate(tally):
        top = y + 8 + row * 27.5
        if row:
            drawing.add(line(x + 10, top - 1.5, x + w - 10, top - 1.5, FINE))
        every = heads(cover)
        drawing.word(x + 14, top + 11, cover.name, 12.0, "start", 600)
        drawing.word(x + w - 14, top + 23, f"{out} of {len(every)}", 12.0, "end", 600)
        for place, head in enumerate(every):
            px, py = x + 19 + place * 11, top + 19
            drawing.add(screw(px, py, head, 3.4) if place < out else disc(px, py, 4, "none", FINE, dashes="2 2"))
