"""Plates of the terminal block: with its strap for three wires and four, and the cord's way in."""

from __future__ import annotations

from dryerbench.family.arrangement import Mark
from dryerbench.machine_view.geometry import Box, rounded
from dryerbench.machine_view.plates.plate import Plate, bad_sign, good_sign, ring_terminal, screw_head
from dryerbench.machine_view.strokes import EDGE, FINE, OUTLINE, cord, disc, line, path, rect, shade_box, tube

_BLACK, _WHITE, _SLATE = Mark("black", "plain"), Mark("white", "plain"), Mark("slate", "plain")
_BARE = Mark("bare", "strap")


def strap() -> Plate:
    """Return the terminal block with three wires and the strap on, and with four wires and the strap off."""
    plate = Plate(
        470,
        "The strap on the terminal block",
        "Left, four wires: leg 1, neutral and leg 2 are on the block. The ground wire is on the screw of the "
        "cabinet. The strap is taken off, so the neutral touches the cabinet nowhere. Right, three wires: the "
        "strap is on. It goes from the neutral terminal to the screw of the cabinet and ties the two together.",
    )
    _block(plate, 12, four=True)
    _block(plate, 284, four=False)
    return plate


def _block(plate: Plate, left: float, *, four: bool) -> None:
    heading = "Four wires: strap off" if four else "Three wires: strap on"
    plate.panel(Box(left, 12, 264, 446), heading, heading)
    x = left + 132
    posts = (x - 74, x, x + 74)
    plate.add(rect(Box(left + 14, 96, 236, 292), "$zinc", OUTLINE, 4))
    plate.add(cord(f"M{x} 64V104", 30), rect(Box(x - 30, 90, 60, 20), "$hole", EDGE, 5))
    plate.add(rect(Box(left + 26, 186, 212, 92), "$white", OUTLINE, 6), shade_box(left + 28, 264, 208, 12))
    plate.add("".join(line(x + dx, 194, x + dx, 262, 3) for dx in (-37, 37)))
    for post in posts:
        plate.add(rect(Box(post - 25, 200, 50, 58), "$brass", EDGE, 4))
    ground = (x + 84, 334.0)
    if four:
        plate.add(
            tube(rounded([(x + 12, 110), (x + 12, 124), (left + 244, 124), (left + 244, 310), ground], 12), _BARE, 6)
        )
    for post, mark, start in zip(posts, (_BLACK, _WHITE, _SLATE), (x - 9, x, x + 9), strict=True):
        plate.add(tube(rounded([(start, 110), (start, 146), (post, 146), (post, 204)], 12), mark, 7))
        plate.add(ring_terminal(post, 229))
    if four:
        plate.add(ring_terminal(*ground, -90.0))
        strip = "M0 0H74a9 9 0 0 1 0 18H0a9 9 0 0 1 0-18z"
        plate.add(f'<g transform="translate({left + 34:g} 330) rotate(-12)">{path(strip, "$brass", EDGE)}')
        plate.add(disc(2, 9, 4, "$zinc", FINE), disc(72, 9, 4, "$zinc", FINE), "</g>")
        plate.call(left + 24, 378, "strap, taken off", (left + 62, 331), (left + 62, 360))
        plate.call(left + 252, 416, "ground wire", ground, (left + 222, 398), "end")
    else:
        bent = rounded([(x, 229), (x, 334), ground], 10)
        plate.add(path(bent, "none", 17), path(bent, "none", 14, "$brass"), disc(*ground, 15, "$brass", EDGE))
        plate.call(left + 32, 372, "strap, on", (x, 312), (left + 84, 354))
        plate.call(left + 252, 416, "screw of the cabinet", ground, (left + 222, 398), "end")
    for post in (*posts, ground[0]):
        plate.add(screw_head(post, 229 if post in posts else ground[1]))
    _names(plate, left, posts)


def _names(plate: Plate, left: float, posts: tuple[float, float, float]) -> None:
    plate.add(rect(Box(left + 20, 286, 224, 25), "$white", FINE, 4))
    for post, words in zip(posts, ("leg 1", "neutral", "leg 2"), strict=True):
        plate.say(post, 304, words)


def cord_entry() -> Plate:
    """Return the cord's way into the cabinet: held by a strain relief on its jacket, and as it must not be."""
    plate = Plate(
        470,
        "Where the cord comes in",
        "Right: the strain relief grips the outer jacket, its two screws are tight, and no wire is pinched. The "
        "rings lie flat under tight screws. Pull on the cord: nothing moves inside. Wrong: there is no grip, and "
        "the jacket has slipped out. The edge of the hole cuts the wires, and the terminals take the pull. It "
        "burns at the loose screw.",
    )
    _entry(plate, 12, held=True)
    _entry(plate, 284, held=False)
    return plate


def _entry(plate: Plate, left: float, *, held: bool) -> None:
    heading = "Right" if held else "Wrong"
    plate.panel(Box(left, 12, 264, 446), heading, heading)
    plate.add(good_sign(left + 30, 36) if held else bad_sign(left + 30, 36))
    x = left + 132
    posts = (x - 70, x, x + 70)
    plate.add(rect(Box(left + 12, 226, 240, 92), "$white", OUTLINE, 6), shade_box(left + 14, 304, 236, 12))
    for post in posts:
        plate.add(rect(Box(post - 26, 240, 52, 56), "$brass", EDGE, 4))
    fan = zip(posts, (_BLACK, _WHITE, _SLATE), (x - 10, x, x + 10), strict=True)
    for post, mark, start in fan:
        plate.add(tube(rounded([(start, 96 if held else 84), (start, 186), (post, 186), (post, 246)], 14), mark, 7))
    plate.add(cord(f"M{x} 64V{176 if held else 100}", 34))
    plate.add(
        rect(Box(left + 12, 130, x - 34 - left - 12, 14), "$zinc", EDGE), rect(Box(x + 34, 130, 86, 14), "$zinc", EDGE)
    )
    if held:
        plate.add(
            rect(Box(x - 36, 116, 72, 16), "$enamel", EDGE, 4), rect(Box(x - 36, 142, 72, 16), "$enamel", EDGE, 4)
        )
        plate.add(screw_head(x - 27, 124, 7), screw_head(x + 27, 124, 7))
    for k, post in enumerate(posts):
        loose = not held and k == 2
        if loose:
            plate.add(path(f"M{post - 34} 262q6-34 36-36t40 34q6 46-38 48t-38-46z", "$scorch", 0, fill_opacity=0.55))
        plate.add(ring_terminal(post + (5 if loose else 0), 268 - (4 if loose else 0), -80.0 if loose else -90.0))
        plate.add(screw_head(post + (9 if loose else 0), 268 - (7 if loose else 0)))
    _entry_words(plate, left, x, posts, held=held)


def _entry_words(plate: Plate, left: float, x: float, posts: tuple[float, float, float], *, held: bool) -> None:
    if held:
        plate.call(left + 20, 88, "jacket", (x - 10, 84), (left + 72, 82))
        plate.call(left + 20, 176, "strain relief", (x - 34, 150), (left + 66, 162))
        plate.call(left + 132, 356, "rings flat, screws tight", (posts[1], 280), (x, 340), "middle")
        plate.say(left + 132, 400, "Pull on the cord:\nnothing moves inside.")
    else:
        plate.call(left + 20, 88, "no grip", (x - 36, 137), (left + 50, 94))
        plate.call(left + 246, 88, "edge cuts", (x + 34, 137), (left + 222, 94), "end")
        plate.call(left + 132, 356, "loose screw: it burns", (posts[2], 300), (posts[2] - 4, 340), "middle")
        plate.say(left + 132, 400, "Pull on the cord:\nthe terminals take it.")
