"""What can be pressed on the whole machine, and the words beside its things."""

from __future__ import annotations

from dryerbench.family.arrangement import Cover
from dryerbench.machine_view.covers import CABINET_BOX, CONSOLE_BOX, is_open, lies_on, region
from dryerbench.machine_view.drawing import Drawing, lock_sign, veil
from dryerbench.machine_view.geometry import Box, Place, box_path
from dryerbench.machine_view.panels import TRAY_LEFT, heads, laid_aside
from dryerbench.machine_view.side_view import CONSOLES, SideView, spoken_view
from dryerbench.machine_view.stand import DRUM, Standing, behind_drum, standing

CONSOLE_GRIP = (CONSOLE_BOX.right - 3, CONSOLE_BOX.y + 24)


def draw_grips(drawing: Drawing, side: SideView) -> None:
    """Mark everything on a side that can be pressed: covers, places bared, console, dial and tray."""
    own, scene = side.own, side.scene
    for place, cover in enumerate(own.covers, start=1):
        if cover not in side.covers:
            continue
        grip = _cover_grip(side, cover)
        if grip:
            held = f"cover-{place}"
            out = len(heads(cover)) if cover in side.off else scene.screws_out.get(cover.name, 0)
            spoken = f"{cover.name}, {'off' if cover in side.off else 'on'}, {out} of {len(heads(cover))} screws out"
            drawing.place(held, spoken, *grip, chosen=scene.chosen == held)
    _thing_grips(drawing, side)
    for view in CONSOLES:
        if view in drawing.parts:
            drawing.place(view, f"{view}, look closer", *CONSOLE_GRIP, chosen=scene.chosen == view)
    if side.side == "front":
        x, y = CONSOLE_BOX.x + 24, CONSOLE_BOX.bottom - 12
        drawing.place("dial", "settings", x, y, chosen=scene.chosen == "dial")
    drawing.place("tray", "screws in the tray", TRAY_LEFT, 524, chosen=scene.chosen == "tray")


def _thing_grips(drawing: Drawing, side: SideView) -> None:
    own, scene = side.own, side.scene
    for one in [*standing(own, side.side)]:
        if one.view in drawing.parts and is_open(own, one.view, scene.covers_off):
            x, y = _thing_grip(one)
            drawing.place(one.view, f"{spoken_view(one.view)}, look closer", x, y, chosen=scene.chosen == one.view)
            if one.view in scene.out_of_reach:
                drawing.add(veil(box_path(one.box.grown(3))), lock_sign(one.box.middle[0], one.box.y + 6))


def _cover_grip(side: SideView, cover: Cover) -> Place | None:
    """Return where the hand takes a cover, if it can get there."""
    if cover in side.off:
        box, _ = laid_aside(side.own, side.off)[cover.name]
        return box.x + box.w / 2, box.bottom - 18
    where = region(side.own, cover)
    return _inner_grip(side, cover) if where is None else _outer_grip(side, where)


def _inner_grip(side: SideView, cover: Cover) -> Place | None:
    own, thing = side.own, lies_on(cover)
    one = next((one for one in standing(own, side.side) if one.view.startswith(thing)), None)
    if one is None or one.view not in side.shown:
        return None
    if one.view.startswith("box-") and behind_drum(own):
        return DRUM[0], DRUM[1]
    if is_open(own, one.view, side.scene.covers_off):
        return one.box.x + 4, one.box.y + 2
    return _thing_grip(one)


def _outer_grip(side: SideView, where: Box) -> Place:
    if where == CONSOLE_BOX:
        return CONSOLE_GRIP
    if where.h < 20:
        return where.x + where.w * 0.5, where.y + 2
    if where.w < 90:
        return where.x + where.w / 2, where.bottom - 14
    if side.side == "rear" and where.w > 200:
        return where.middle[0] + 60, where.bottom - 30
    if side.side == "front" and where.bottom < CABINET_BOX.bottom - 20:
        return where.middle[0] + 90, where.bottom - 36
    return where.middle[0], where.bottom - 30


def _thing_grip(one: Standing) -> tuple[float, float]:
    box = one.box
    if one.view == "block":
        return box.x + box.w / 2, box.bottom - 2
    if one.view == "door-frame":
        return (box.middle[0], box.y + 4) if box.w > box.h else (box.x + 12, box.bottom - 4)
    if one.view == "belt-idler":
        return box.middle[0], box.y + 2
    if one.view == "duct" and box.h > 90:
        return box.middle[0], box.bottom - 20
    return box.middle[0], box.bottom - 10


def draw_labels(drawing: Drawing, side: SideView) -> None:
    """Name the things on the base below the floor's edge, the block at the right."""
    low = sorted(
        (one for one in standing(side.own, side.side) if one.view in drawing.parts and one.box.bottom > 440),
        key=lambda one: one.box.x,
    )
    row_end = [0.0, 0.0]
    for place, one in enumerate(low):
        words = spoken_view(one.view)
        size = 12.5
        x = one.box.middle[0]
        wide = len(words) * 7.4
        row = place % 2 if len(low) > 2 else 0
        x = min(max(x, row_end[row] + wide / 2 + 8, CABINET_BOX.x - 10 + wide / 2), TRAY_LEFT - 12 - wide / 2)
        y = 516 + row * 22
        row_end[row] = x + wide / 2
        drawing.leader((one.box.middle[0], one.box.bottom - 1), (x, y - 11))
        drawing.word(x, y, words, size, "middle")
    _high_labels(drawing, side)


def _high_labels(drawing: Drawing, side: SideView) -> None:
    for one in standing(side.own, side.side):
        if (
            one.view not in drawing.parts
            or one.box.bottom > 440
            or one.view in ("block", "belt-idler")
            or one.box.y < CABINET_BOX.y
        ):
            continue
        if one.box.y > 340:
            drawing.word(one.box.x, one.box.bottom + 13, spoken_view(one.view), 12)  # right of it runs the belt
            continue
        left, level = one.box.middle[0] < DRUM[0] - 40, one.box.y + 12
        faced = any(
            (where := region(side.own, cover)) is not None and where.x < CABINET_BOX.x - 10 for cover in side.covers
        )
        x = CABINET_BOX.x - (44 if faced else 12) if left else CABINET_BOX.right + 12
        drawing.leader((one.box.x + 4 if left else one.box.right - 4, level), (x + (4 if left else -4), level))
        drawing.word(x, level + 4, spoken_view(one.view), 12.5, "end" if left else "start")
    block = drawing.parts.get("block")
    if block and block.x > CABINET_BOX.x:
        drawing.leader((block.right - 2, block.y + 6), (CABINET_BOX.right + 12, block.y - 24))
        drawing.word(CABINET_BOX.right + 8, block.y - 42, "terminal", 12.5)
        drawing.word(CABINET_BOX.right + 8, block.y - 28, "block", 12.5)
