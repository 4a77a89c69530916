"""Which side of the cabinet a cover is on and which part of that side it covers, told by its name and what it bares."""

from __future__ import annotations

from dryerbench.family.arrangement import Cover
from dryerbench.family.own_machine import OwnMachine
from dryerbench.machine_view.geometry import Box
from dryerbench.machine_view.spots import BOX_STAND, box_name, parts_at

CABINET_BOX = Box(276, 150, 256, 330)
CONSOLE_BOX = Box(276, 86, 256, 64)
TOE = 124
"""How much of the cabinet's height a toe panel takes."""
_CONSOLE_WORDS = ("console", "fascia", "strip")
_ON_A_PART = {"box": "box", "duct": "duct"}


def lies_on(cover: Cover) -> str:
    """Return the thing inside the cabinet on which a cover lies, ``box`` or ``duct``, or nothing."""
    words = cover.name.split()
    return next((thing for word, thing in _ON_A_PART.items() if word in words and cover.after), "")


def side_of(own: OwnMachine, cover: Cover) -> str:
    """Return from which side a cover comes off, ``front`` or ``rear``; what is on a part, from that part's side."""
    words = cover.name.split()
    if "rear" in words or cover.name == "console back":
        return "rear"
    if lies_on(cover):
        before = {one.name: one for one in own.covers}.get(cover.after)
        return side_of(own, before) if before else "front"
    return "front"


def covers_on_side(own: OwnMachine, side: str) -> tuple[Cover, ...]:
    """Return the covers of one side, in the order in which they can come off."""
    return tuple(cover for cover in own.covers if side_of(own, cover) == side)


def has_toe_panel(own: OwnMachine) -> bool:
    """Return whether the front has a toe panel."""
    return any("toe" in cover.name for cover in own.covers)


def region(own: OwnMachine, cover: Cover) -> Box | None:
    """Return the part of its side that a cover takes; None for one that lies on a part inside."""
    words, body = cover.name.split(), CABINET_BOX
    if lies_on(cover):
        return None
    known = {
        "side": Box(body.x - 26, body.y + 96, 24, 92),
        **dict.fromkeys(_CONSOLE_WORDS, CONSOLE_BOX),
        "toe": Box(body.x, body.bottom - TOE, body.w, TOE),
        "top": Box(body.x - 3, body.y - 7, body.w + 6, 13),
        "plate": Box(body.right - 84, body.y + 16, 66, 76),
    }
    return next((box for word, box in known.items() if word in words), None) or _large(own, words)


def _large(own: OwnMachine, words: list[str]) -> Box:
    body = CABINET_BOX
    half = body.h / 2
    if words[0] != "rear":
        return Box(body.x, body.y, body.w, body.h - TOE) if has_toe_panel(own) else body
    halves = {
        "lower": Box(body.x, body.y + half, body.w, half),
        "upper": Box(body.x, body.y, body.w, half),
        "left": Box(body.x, body.y, body.w / 2, body.h),
        "right": Box(body.x + body.w / 2, body.y, body.w / 2, body.h),
    }
    return next((box for word, box in halves.items() if word in words), body)


def fixed_shell(own: OwnMachine, side: str) -> tuple[Box, ...]:
    """Return the parts of a side's sheet metal that never come off."""
    taken = [found for cover in covers_on_side(own, side) if (found := region(own, cover)) and found.w > 100]
    taken = [box for box in taken if box.y >= CABINET_BOX.y] if side == "front" else taken
    body = CABINET_BOX
    large = [box for box in taken if box.h > 90 and box.y >= body.y]
    if not large:
        return (body,)
    if side == "front" and has_toe_panel(own) and all(box.h <= TOE for box in large):
        return (Box(body.x, body.y, body.w, body.h - TOE),)
    return ()


def bared_by(own: OwnMachine, thing: str) -> Cover | None:
    """Return the cover that bares a part, a terminal of the box or the ``block``."""
    stem = thing.partition(".")[0]
    return next((cover for cover in own.covers if {thing, stem} & set(cover.bares)), None)


def is_bare(own: OwnMachine, thing: str, covers_off: tuple[str, ...]) -> bool:
    """Return whether the covers over a part, a box terminal or the ``block`` are off."""
    return all(cover.name in covers_off for cover in own.placement.covers_over(thing))


def thing_at(own: OwnMachine, view: str) -> tuple[str, ...]:
    """Return what the covers must bare for a close-up: its parts, its box's terminals, or the ``block``."""
    if view == "block":
        return ("block",)
    if view.startswith(f"{BOX_STAND}-"):
        seats = own.seats
        terminals = tuple(terminal for terminal in own.placement.in_order if box_name(seats[terminal].box) == view)
        return (*terminals, *(part.name for part in parts_at(own, view) if part.kind.name != "splice"))
    return tuple(part.name for part in parts_at(own, view))


def is_open(own: OwnMachine, view: str, covers_off: tuple[str, ...]) -> bool:
    """Return whether something of a close-up is bare; the wall always is."""
    return view == "wall" or any(is_bare(own, thing, covers_off) for thing in thing_at(own, view))
