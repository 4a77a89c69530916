"""Where each thing stands inside the cabinet as seen from one side: from the arrangement's words to boxes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from dryerbench.family.own_machine import OwnMachine
from dryerbench.machine_view.covers import CABINET_BOX, TOE, bared_by, region, side_of, thing_at
from dryerbench.machine_view.geometry import Box
from dryerbench.machine_view.spots import views

DRUM = (404.0, 262.0, 92.0)
"""Center and radius of the drum."""
BASE_TOP, BASE_BOTTOM = 384.0, 470.0
_LEFT, _RIGHT = CABINET_BOX.x + 16, CABINET_BOX.right - 16
_WIDE = {"box": 74.0, "motor": 64.0, "blower": 78.0, "duct": 64.0, "base": 56.0, "tall box": 60.0}
_UPRIGHT = ("left wall", "right wall")


@dataclass(frozen=True, slots=True)
class Standing:
    """A thing inside the cabinet: its close-up's id, what it is, and its box; ``rightward``: its open side is right."""

    view: str
    what: str
    box: Box
    rightward: bool = True


def view_side(own: OwnMachine, view: str) -> str:
    """Return the side, ``front`` or ``rear``, from which a close-up is reached."""
    cover = bared_by(own, thing_at(own, view)[0])
    return side_of(own, cover) if cover else "front"


def behind_drum(own: OwnMachine) -> bool:
    """Return whether the heater box is behind the drum."""
    return own.arrangement.boxes[0].stands == "behind the drum"


def _pull(own: OwnMachine, view: str) -> float:
    """Return to which side a thing wants to stand: 0 left, 1 right, 0.5 in the middle; what is free stands opposite."""
    if view.startswith("box-"):
        words = own.arrangement.boxes[int(view[4:]) - 1].stands.split()
        return 0.0 if "left" in words else 1.0 if "right" in words else 0.5
    return -1.0


def _base_things(own: OwnMachine, side: str) -> Iterator[tuple[str, str]]:
    for view in views(own):
        if view in ("wall", "block") or view_side(own, view) != side:
            continue
        if view.startswith("box-") and not behind_drum(own):
            upright = own.arrangement.boxes[int(view[4:]) - 1].stands in _UPRIGHT
            yield view, "tall box" if upright else "box"
        elif view in ("motor", "blower", "base") or (view == "duct" and not _duct_is_high(own)):
            yield view, view


def _duct_is_high(own: OwnMachine) -> bool:
    cover = bared_by(own, thing_at(own, "duct")[0])
    where = region(own, cover) if cover else None
    return where is not None and where.bottom < BASE_TOP


def _in_order(own: OwnMachine, side: str) -> list[tuple[str, str]]:
    """Return the things of the base zone from left to right."""
    things = list(_base_things(own, side))
    boxes = [thing for thing in things if thing[0].startswith("box-")]
    free = [thing for thing in things if thing not in boxes]
    if len(boxes) == 2:
        return [boxes[0], *free, boxes[1]]
    if not boxes:
        return free
    pull = _pull(own, boxes[0][0])
    if pull == 0.0:
        return [*boxes, *free]
    if pull == 1.0:
        return [*reversed(free), *boxes]
    return [*free[:1], *boxes, *free[1:]]


def base_zone(own: OwnMachine, side: str) -> list[Standing]:
    """Return what stands on the base, spread from wall to wall."""
    things = _in_order(own, side)
    if not things:
        return []
    wide = [_WIDE[what] for _, what in things]
    room = _RIGHT - _LEFT - sum(wide)
    gaps = [room / max(len(things) - 1, 1)] * (len(things) - 1)
    x, found = _LEFT, []
    if len(things) == 1:
        pull = _pull(own, things[0][0])
        x += room * (0.5 if pull < 0 else pull)
    for place, ((view, what), w) in enumerate(zip(things, wide, strict=True)):
        top = BASE_TOP - (14 if what == "tall box" else 0)
        found.append(Standing(view, what, Box(x, top, w, BASE_BOTTOM - top), x + w / 2 < DRUM[0]))
        x += w + (gaps[place] if place < len(gaps) else 0.0)
    return found


def _corner_things(own: OwnMachine, side: str) -> Iterator[Standing]:
    body = CABINET_BOX
    for view in views(own):
        if view == "wall" or view_side(own, view) != side:
            continue
        if view == "block":
            cover = bared_by(own, "block")
            where = region(own, cover) if cover else None
            if where is None:
                continue
            small = where.w < 100
            y = where.y + 14 if small or where.y > body.y else body.y + 26
            x = where.x + 14 if small and where.w > 30 else body.right - 70
            if where.x < body.x:
                x, y = where.x + 3, where.y + 26
            yield Standing(view, view, Box(x, y, 20 if where.x < body.x else 38, 44))
        elif view == "door-frame":
            yield Standing(view, view, _door_place(own, side))
        elif view == "belt-idler":
            yield Standing(view, view, Box(_idler_x(own, side) - 12, BASE_TOP - 28, 24, 26))
        elif view == "duct" and _duct_is_high(own):
            yield Standing(view, view, Box(body.x + 16, body.y + 66, 40, 94))
        elif view.startswith("box-") and behind_drum(own):
            yield Standing(view, "box", Box(DRUM[0] - 62, DRUM[1] - 40, 124, 84))


def _door_place(own: OwnMachine, side: str) -> Box:
    """Return where the door's switch is: at the flange, or where the top or the toe panel lets one reach it."""
    body = CABINET_BOX
    cover = bared_by(own, thing_at(own, "door-frame")[0])
    words = cover.name.split() if cover else []
    if words[:1] == ["top"]:
        return Box(body.x + 176, body.y - 8, 48, 16)
    if "toe" in words:
        return Box(body.x + 14, body.bottom - TOE + 3, 44, 20)
    return Box(body.x + 15 if _loom_is_right(own, side) else body.right - 37, body.y + 18, 22, 34)


def _loom_is_right(own: OwnMachine, side: str) -> bool:
    """Return whether the right wall is taken: by the heater box's wires, or on the rear by the block."""
    boxes = [one for one in base_zone(own, side) if one.view.startswith("box-")]
    return side == "rear" or any(one.box.middle[0] >= DRUM[0] for one in boxes)


def _idler_x(own: OwnMachine, side: str) -> float:
    motor = next((one for one in base_zone(own, side) if one.view == "motor"), None)
    if motor is None:
        return DRUM[0]
    x = motor.box.middle[0]
    return x - 52 if x > DRUM[0] else x + 52


def standing(own: OwnMachine, side: str) -> list[Standing]:
    """Return everything inside the cabinet that is reached from ``side``, from back to front."""
    return [*base_zone(own, side), *_corner_things(own, side)]
