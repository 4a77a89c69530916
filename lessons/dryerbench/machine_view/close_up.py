"""A close-up of one place of a machine, by its id."""

from __future__ import annotations

from collections.abc import Mapping

from dryerbench.family.own_machine import OwnMachine
from dryerbench.machine_view.block_and_wall import draw_block, draw_wall_close
from dryerbench.machine_view.box_view import draw_box
from dryerbench.machine_view.drawing import Drawing
from dryerbench.machine_view.palette import LIGHT
from dryerbench.machine_view.part_rows import draw_part_rows
from dryerbench.machine_view.scene import Scene
from dryerbench.machine_view.terminals import CloseUp
from dryerbench.machine_view.wire_grips import draw_wire_grips


def close_up(own: OwnMachine, view: str, scene: Scene) -> Drawing:
    """Return the drawing of a close-up, such as ``box-1``, ``block``, ``wall``, ``motor`` or ``blower``.

    Raises
    ------
    KeyError
        For a close-up that the machine does not have.
    """
    shown = CloseUp(own, view, scene)
    if view == "wall":
        draw_wall_close(shown)
    elif view == "block":
        draw_block(shown)
    elif view.startswith("box-"):
        draw_box(shown)
    else:
        draw_part_rows(shown)
    if scene.hand == "clamp":
        draw_wire_grips(shown.drawing, scene, shown.ways)
    shown.put_probe()
    return shown.drawing


def close_up_svg(own: OwnMachine, view: str, scene: Scene, palette: Mapping[str, str] = LIGHT) -> str:
    """Return the SVG of a close-up."""
    return close_up(own, view, scene).svg(palette)
