"""The vent hood outdoors, small beside the machine: where the airflow is read and the air that comes out is felt."""

from __future__ import annotations

from dryerbench.machine_view.drawing import Drawing
from dryerbench.machine_view.geometry import Box
from dryerbench.machine_view.held_tools import AT_FLOOR, airflow_meter, put, temperature_probe
from dryerbench.machine_view.scene import EXHAUST_AIR, ROOM_AIR, Scene
from dryerbench.machine_view.strokes import EDGE, FINE, OUTLINE, disc, line, path, rect, shade_box

WINDOW = Box(14, 118, 98, 74)
"""The piece of the outer wall with the hood."""
MOUTH = (63.0, 160.0)
"""Where the air comes out of the hood."""
ROOM = (176.0, 152.0)
"""Where the room's air is felt."""
_LABEL = (63.0, 204.0)


def draw_outdoors(drawing: Drawing, scene: Scene) -> None:
    """Draw the hood where the airflow can be read or the temperature probe is in hand, and what was put there."""
    if not (scene.hood or scene.hand == "temp"):
        return
    x, y = MOUTH
    drawing.part("hood", WINDOW)
    drawing.add(rect(WINDOW, "$enamel", OUTLINE, 4))
    drawing.add("".join(line(WINDOW.x + 2, level, WINDOW.right - 2, level, FINE) for level in (132, 146, 160, 174)))
    drawing.add(path(f"M{x - 24} {y - 26}H{x + 24}L{x + 30} {y + 4}H{x - 30}Z", "$zinc", EDGE))
    drawing.add(rect(Box(x - 26, y + 4, 52, 12), "$slate", EDGE, 2), shade_box(x - 24, y - 6, 48, 8))
    drawing.word(WINDOW.x, WINDOW.bottom + 15, "vent hood, outside", 12)
    if scene.hand == "temp":
        _air(drawing, scene, EXHAUST_AIR, x, y)
        drawing.add(disc(*ROOM, 11, "none", FINE, dashes="2 3"))
        _air(drawing, scene, ROOM_AIR, *ROOM)
    elif scene.hood:
        there = scene.airflow is not None
        drawing.place("hood", "vent hood, read the airflow", x, y)
        if there:
            drawing.add_over(put("airflow", x, y, airflow_meter(x, y, scene.airflow or "")))


def _air(drawing: Drawing, scene: Scene, place: str, x: float, y: float) -> None:
    words = scene.touchable.get(place)
    if words is None:
        return
    drawing.touched(place, words, x, y, chosen=scene.bead == place)
    if scene.bead == place:
        drawing.add_over(put("temp", x, y, temperature_probe(x, y, [ROOM, MOUTH, _LABEL], AT_FLOOR)))
