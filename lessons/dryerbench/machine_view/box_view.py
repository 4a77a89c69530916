"""The heater box close up: sheet metal, guard, terminal board by the seats, thermostats and cut-offs on it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from dryerbench.family.own_machine import OwnMachine
from dryerbench.machine_view import bodies
from dryerbench.machine_view.fittings import heat_waves
from dryerbench.machine_view.geometry import Box
from dryerbench.machine_view.spots import body_spots, parts_at
from dryerbench.machine_view.strokes import EDGE, FINE, line, path, rect, screw
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

SHEET_METAL = "box-1-sheet"
"""The id of the sheet metal of a heater box that is the only one."""


def draw_box(shown: CloseUp) -> None:
    """Draw a heater box; its seats, and whether it is mirrored, follow the machine's placement."""
    own, view, drawing = shown.own, shown.view, shown.drawing
    flip = own.placement.mirrored
    turn = _flipped if flip else _as_is
    body = turn(Box(70, 168, 586, 288))
    drawing.part("box", body)
    drawing.add(_sheet_metal(body, flip=flip))
    if view in shown.scene.hot:
        drawing.add(heat_waves(body.middle[0], body.y - 4, 1.1))
    shown.touched(SHEET_METAL, body.middle[0], body.bottom - 10)
    seats = [own.seats[t] for t in own.placement.in_order if f"box-{own.seats[t].box + 1}" == view]
    points = [t for t in own.placement.in_order if f"box-{own.seats[t].box + 1}" == view]
    columns, rows = sorted({seat.column for seat in seats}), sorted({seat.row for seat in seats})
    single = len(columns) == 1
    board, blades = _single_column(points, own, turn, flip=flip) if single else _grid(points, own, columns, rows, turn)
    drawing.part("board", board)
    draw_loom(drawing, 530)
    draw_loom(drawing, 44)
    if not all(shown.bare(point) for point in points):
        draw_covered(shown, Box(body.x + 14, 302, body.w - 28, 130))
        loose: list[Blade] = []
        _switches(shown, loose, turn)
        draw_blades(shown, loose)
        return
    guard = turn(Box(100, 310, (540 if single else turn(board).x - 24) - 100, 118))
    drawing.add(_guard(guard, glows=view in shown.scene.glowing))
    drawing.add(
        rect(board, "$white", 2.4, 4),
        screw(board.x + 8, board.y + 8, "Ph", 4),
        screw(board.right - 8, board.y + 8, "Ph", 4),
    )
    _switches(shown, blades, turn)
    draw_blades(shown, blades)
    draw_bare_metal(shown, turn(Box(88, 440, 0, 0)).x, 440)


def _as_is(box: Box) -> Box:
    return box


def _flipped(box: Box) -> Box:
    return Box(WIDTH - box.right, box.y, box.w, box.h)


def _single_column(
    points: Sequence[str], own: OwnMachine, turn: Callable[[Box], Box], *, flip: bool
) -> tuple[Box, list[Blade]]:
    rows = [own.seats[point].row for point in points]
    pitch = min(92.0, 180.0 / max(max(rows) - min(rows), 1))
    top = 358.0 - pitch * (max(rows) - min(rows)) / 2 + 4
    board = turn(Box(598, top - 34, 34, pitch * (max(rows) - min(rows)) + 68))
    blades = []
    for k, point in enumerate(points):
        y = top + pitch * (own.seats[point].row - min(rows))
        x, lane = (760 - 634, 42 - 10 * (len(points) - k)) if flip else (634, 718 + 10 * (len(points) - k))
        blades.append(Blade(point, x, y, 180.0 if flip else 0.0, 530, lane - (0 if flip else 14)))
    return board, blades


def _grid(
    points: Sequence[str], own: OwnMachine, columns: Sequence[int], rows: Sequence[int], turn: Callable[[Box], Box]
) -> tuple[Box, list[Blade]]:
    across, down = 88.0, 106.0
    wide = across * (max(columns) - min(columns)) + 74
    span = max(rows) - min(rows)
    board = turn(Box(640 - wide, 302, wide, 48 + down * span * (0.94 if span else 1)))
    blades = []
    for point in points:
        seat = own.seats[point]
        x = board.x + 37 + across * (seat.column - min(columns))
        y = board.y + 30 + down * 0.94 * (seat.row - min(rows))
        below = any(own.seats[p].row > seat.row and abs(own.seats[p].column - seat.column) < 1 for p in points)
        blades.append(Blade(point, x, y, 90.0, 530, x + across / 2 if below else 0.0))
    return board, blades


def _switches(shown: CloseUp, blades: list[Blade], turn: Callable[[Box], Box]) -> None:
    """Place thermostats, limits, cut-offs and splices along the top of the box, blades up."""
    parts = parts_at(shown.own, shown.view)
    made = shown.own.arrangement
    bodies_here = {part: spot for spot, part in body_spots(shown.own, shown.view).items()}
    wide = [124.0 if part.kind.name != "splice" else 60.0 for part in parts]
    x = 96.0
    for part, w in zip(parts, wide, strict=True):
        box = turn(Box(x, 196, w, 76))
        shown.drawing.part(part.name, box)
        if part.kind.name != "splice" and not shown.bare(part.name):
            draw_covered(shown, box)
            x += w + 22
            continue
        mid = box.middle[0]
        upside = f"rotate(180 {mid:g} {box.middle[1]:g})"
        drawn = bodies.body(part, Box(mid - bodies.body_width(2) / 2, box.y, bodies.body_width(2), 76))
        shown.drawing.add(f'<g transform="{upside}">{drawn}</g>')
        if shown.scene.named:
            draw_name(shown, part, mid, box.bottom + 18)
        shown.touched(bodies_here[part.name], mid, box.bottom - 26)
        terminals = made.present(part)
        places = bodies.blade_places(box, len(terminals))
        for point, place in zip(terminals, places, strict=True):
            blades.append(Blade(point, place, box.y, -90.0, 44, sleeved=part.kind.name == "splice"))
        x += w + 22


def _sheet_metal(box: Box, *, flip: bool) -> str:
    s, edge = (1, box.right) if flip else (-1, box.x)
    mouth = f"M{edge} {box.y + 14}L{edge + s * 40} {box.y - 4}V{box.bottom + 4}L{edge} {box.bottom - 14}z"
    out = path(mouth, "$zinc", EDGE) + line(edge + s * 40, box.y - 8, edge + s * 40, box.bottom + 8, 2.4)
    out += path(f"M{box.x} {box.y}l14-16h{box.w - 28:g}l14 16z", "$enamel", EDGE) + rect(box, "$zinc", 2.4, 3)
    out += line(box.x + 8, box.y + 8, box.right - 8, box.y + 8, FINE) + line(
        box.x + 2, box.bottom - 20, box.right - 2, box.bottom - 20, FINE
    )
    return out + path(
        f"M{box.x + 1} {box.bottom - 20}h{box.w - 2:g}v19h{2 - box.w:g}z", "$shadow", 0, fill_opacity=0.13
    )


def _guard(box: Box, *, glows: bool) -> str:
    """Return the guard: the coils' turns behind bars, the same for every coil, so that no fault shows through it."""
    out = rect(box, "$slate", 2.4, 8)
    turns = max(2, int((box.w - 28) / 12))
    for k in range(3):
        y = box.y + 26 + k * 33
        data = f"M{box.x + 14:g} {y:g}" + "q3-26 6 0t6 0" * turns
        out += path(data, "none", 5.6 if glows else 4.2, "$live" if glows else "$ink") + path(
            data, "none", 2.8 if glows else 2.2, "$glow" if glows else "$zinc"
        )
    bars = int((box.w - 20) // 44)
    step = box.w / (bars + 1)
    return out + "".join(rect(Box(box.x + step * (k + 1) - 5, box.y, 10, box.h), "$zinc", EDGE) for k in range(bars))
