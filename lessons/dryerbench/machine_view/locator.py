"""The locator: one side of a machine as a small silhouette of a few shapes, on which one place is filled and framed."""

from __future__ import annotations

from collections.abc import Mapping

from dryerbench.family.own_machine import OwnMachine
from dryerbench.machine_view.covers import CABINET_BOX, CONSOLE_BOX
from dryerbench.machine_view.drawing import Drawing
from dryerbench.machine_view.geometry import Box
from dryerbench.machine_view.palette import LIGHT
from dryerbench.machine_view.side_view import CONSOLES, spoken_view
from dryerbench.machine_view.stand import DRUM, standing, view_side
from dryerbench.machine_view.strokes import disc, group, rect

WIDTH, HEIGHT = 104.0, 110.0
_SCALE = 0.25
_LEAST = 44.0
"""The least side of what is framed, in units of the whole machine."""


def _place(own: OwnMachine, view: str) -> Box:
    if view in CONSOLES:
        return CONSOLE_BOX
    if view == "wall":
        return Box(CABINET_BOX.right + 8, CABINET_BOX.y + 40, 48, 60)
    found = next(one.box for one in standing(own, view_side(own, view)) if one.view == view)
    wide, high = max(found.w, _LEAST), max(found.h, _LEAST)
    x, y = found.middle
    return Box(x - wide / 2, y - high / 2, wide, high)


def locator(own: OwnMachine, view: str) -> Drawing:
    """Return the locator of a close-up: front or rear, as one gets there.

    Raises
    ------
    StopIteration
        For a close-up that the machine does not have.
    """
    side = "front" if view == "wall" else view_side(own, view)
    told = f"The {spoken_view(view)}, seen from the {side}."
    drawing = Drawing(WIDTH, HEIGHT, f"Where the {spoken_view(view)} is", told)
    place = _place(own, view)
    shapes = rect(CONSOLE_BOX, "$enamel", 8, 10) + rect(CABINET_BOX, "$enamel", 8, 4) + disc(*DRUM, "$white", 6)
    if side == "rear":
        shapes += disc(DRUM[0], DRUM[1], 18, "$slate", 0)
    shapes += "".join(rect(one.box, "$white", 5) for one in standing(own, side) if one.box.y > 340)
    shapes += rect(place, "$ink", 5) + rect(place.grown(13), "none", 20, 10, "$white")
    shapes += rect(place.grown(13), "none", 11, 10, "$focus")
    drawing.part(view, Box(*(_SCALE * length for length in (place.x - 222, place.y - 66, place.w, place.h))))
    drawing.add(group(shapes, transform=f"scale({_SCALE}) translate(-222 -66)"))
    return drawing


def locator_svg(own: OwnMachine, view: str, palette: Mapping[str, str] = LIGHT) -> str:
    """Return the SVG of a locator."""
    return locator(own, view).svg(palette)
