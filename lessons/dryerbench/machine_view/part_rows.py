"""Close-ups of places on which parts stand in a row: console, blower, motor, idler, door frame, duct, base."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from dryerbench.family.kinds import Component
from dryerbench.machine_view import bodies
from dryerbench.machine_view.fittings import heat_waves
from dryerbench.machine_view.geometry import Box
from dryerbench.machine_view.spots import body_spots, parts_at
from dryerbench.machine_view.terminals import (
    WIDTH,
    Blade,
    CloseUp,
    draw_bare_metal,
    draw_blades,
    draw_covered,
    draw_loom,
    draw_name,
)

_BACKDROPS: dict[str, Callable[[], str]] = {
    "motor": bodies.motor_backdrop,
    "blower": bodies.blower_backdrop,
    "door-frame": bodies.frame_backdrop,
    "belt-idler": bodies.idler_backdrop,
    "duct": bodies.duct_backdrop,
    "base": bodies.base_backdrop,
}
MOTOR_TOP, MOTOR_SHELL = 256.0, (300.0, 176.0)
"""How high the motor's terminals stand in one row, and a place on its shell, above them."""
_GAP = 12.0
_ROOM = 704.0


def _rows(shown: CloseUp, parts: Sequence[Component]) -> list[list[Component]]:
    wide = [bodies.body_width(len(shown.own.arrangement.present(part))) + _GAP for part in parts]
    if sum(wide) <= _ROOM:
        return [list(parts)]
    half, rows = sum(wide) / 2, [[], []]  # type: tuple[float, list[list[Component]]]
    so_far = 0.0
    for part, w in zip(parts, wide, strict=True):
        rows[0 if so_far + w / 2 <= half else 1].append(part)
        so_far += w
    return rows


def draw_part_rows(shown: CloseUp) -> None:
    """Draw the parts of a place in one row or two, each row with its loom, before what they are mounted on."""
    parts = parts_at(shown.own, shown.view)
    rows = _rows(shown, parts)
    backdrop = _BACKDROPS.get(shown.view)
    shown.drawing.add(backdrop() if backdrop else bodies.console_backdrop(len(rows)))
    tops = (78.0, 318.0) if len(rows) > 1 else (MOTOR_TOP if shown.view == "motor" else 262.0 if backdrop else 120.0,)
    blades = []
    for row, top in zip(rows, tops, strict=True):
        loom = top + (186.0 if len(rows) > 1 else 240.0 if backdrop else 300.0)
        draw_loom(shown.drawing, loom)
        blades += _row_of_parts(shown, row, top, loom)
    if shown.view in shown.scene.hot:
        shown.drawing.add(heat_waves(WIDTH / 2, tops[0] - 22, 1.1))
    draw_blades(shown, blades)
    draw_bare_metal(shown, 726, 26)


def _row_of_parts(shown: CloseUp, row: Sequence[Component], top: float, loom: float) -> list[Blade]:
    made = shown.own.arrangement
    bodies_here = {part: spot for spot, part in body_spots(shown.own, shown.view).items()}
    wide = [bodies.body_width(len(made.present(part))) for part in row]
    gap = min(30.0, (_ROOM - sum(wide)) / max(len(row), 1))
    x = (WIDTH - sum(wide) - gap * (len(row) - 1)) / 2
    found = []
    for part, w in zip(row, wide, strict=True):
        box = Box(x, top, w, bodies.DEEP)
        shown.drawing.part(part.name, box)
        if part.kind.name != "splice" and not shown.bare(part.name):
            draw_covered(shown, box)
            x += w + gap
            continue
        shown.drawing.add(bodies.body(part, box))
        if shown.scene.named:
            draw_name(shown, part, box.middle[0], box.y - 8)
        on_shell = part.kind.name == "motor" and top == MOTOR_TOP
        shown.touched(bodies_here[part.name], *(MOTOR_SHELL if on_shell else (box.middle[0], box.y + 22)))
        terminals = made.present(part)
        for point, place in zip(terminals, bodies.blade_places(box, len(terminals)), strict=True):
            found.append(Blade(point, place, box.bottom, 90.0, loom, sleeved=part.kind.name == "splice"))
        x += w + gap
    return found
