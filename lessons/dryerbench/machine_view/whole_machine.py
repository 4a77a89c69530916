"""The whole machine from the front or the rear: cabinet, covers, what they bare, the wall, the tray of screws."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from dryerbench.family.arrangement import Cover
from dryerbench.family.own_machine import OwnMachine
from dryerbench.machine_view import small_parts
from dryerbench.machine_view.covers import (
    CABINET_BOX,
    CONSOLE_BOX,
    fixed_shell,
    is_bare,
    is_open,
    lies_on,
    region,
)
from dryerbench.machine_view.drawing import Drawing
from dryerbench.machine_view.fittings import heat_waves
from dryerbench.machine_view.geometry import Box, Wheel, belt, wrapped
from dryerbench.machine_view.held_tools import AT_FLOOR
from dryerbench.machine_view.machine_marks import draw_grips, draw_labels
from dryerbench.machine_view.palette import LIGHT
from dryerbench.machine_view.panels import (
    console_front,
    console_rear,
    door_on,
    draw_aside,
    draw_tray,
    heads,
    louvers,
    on_machine,
    sheet,
)
from dryerbench.machine_view.scene import Scene
from dryerbench.machine_view.side_view import CONSOLES, SideView
from dryerbench.machine_view.spots import parts_at, views
from dryerbench.machine_view.stand import BASE_TOP, DRUM, Standing, behind_drum, standing, view_side
from dryerbench.machine_view.strokes import EDGE, OUTLINE, cord, disc, line, rect, shade_box
from dryerbench.machine_view.vent_hood import draw_outdoors
from dryerbench.machine_view.wall_parts import draw_wall
from dryerbench.machine_view.wire_grips import draw_wire_grips

WIDTH, HEIGHT = 760.0, 560.0
FLOOR = 490.0


def machine_drawing(own: OwnMachine, scene: Scene) -> Drawing:
    """Return the drawing of one side of a machine; ``scene.side`` says which."""
    side = SideView(own, scene)
    title = f"{own.arrangement.name}, {scene.side}"
    drawing = Drawing(WIDTH, HEIGHT, title, _told(side))
    _ground(drawing, title)
    _console(drawing, side)
    _cabinet(drawing, side)
    _shut_parts(drawing, side)
    cord_way = draw_wall(
        drawing,
        own.arrangement.cord,
        _relief(side),
        plugged=scene.plugged,
        on=scene.breaker_on,
        locked=scene.locked,
        chosen=scene.chosen,
    )
    _relief_drawn(drawing, side)
    draw_aside(drawing, own, side.off, scene.side)
    draw_tray(drawing, _tally(side))
    draw_grips(drawing, side)
    draw_labels(drawing, side)
    draw_outdoors(drawing, scene)
    if scene.hand == "clamp":
        draw_wire_grips(drawing, scene, [cord_way], AT_FLOOR)
    return drawing


def machine_svg(own: OwnMachine, scene: Scene, palette: Mapping[str, str] = LIGHT) -> str:
    """Return the SVG of one side of a machine."""
    return machine_drawing(own, scene).svg(palette)


def _listed(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _told(side: SideView) -> str:
    scene = side.scene
    names = [cover.name for cover in side.off]
    covers = f"{_listed(names).capitalize()} {'is' if len(names) == 1 else 'are'} off." if names else "Covers on."
    power = (
        "Breaker on" if scene.breaker_on else "Breaker off and locked" if scene.locked else "Breaker off, not locked"
    )
    return f"{covers} {power}, plug {'in' if scene.plugged else 'out'}."


def _tally(side: SideView) -> list[tuple[Cover, int]]:
    found = []
    for cover in side.covers:
        out = len(heads(cover)) if cover in side.off else side.scene.screws_out.get(cover.name, 0)
        if out:
            found.append((cover, out))
    return found


def _ground(drawing: Drawing, title: str) -> None:
    drawing.add(
        rect(Box(0, FLOOR, WIDTH, HEIGHT - FLOOR), "$enamel", 0),
        shade_box(0, FLOOR, WIDTH, 7, 0.07),
        line(0, FLOOR, WIDTH, FLOOR),
    )
    drawing.word(14, 36, title, 18, weight=700)
    for k, words in enumerate(wrapped(drawing.told, 246, 13)):
        drawing.word(14, 58 + 18 * k, words, 13)


def _is_stacked(own: OwnMachine) -> bool:
    return any(
        "stack" in cover.how and "upper" not in cover.how and "strip" in " ".join(c.name for c in own.covers)
        for cover in own.covers
    )


def _console(drawing: Drawing, side: SideView) -> None:
    own, box = side.own, CONSOLE_BOX
    if _is_stacked(own):
        upper = Box(box.x, 14, box.w, 70)
        drawing.add(
            rect(upper, "$enamel", OUTLINE, 2),
            rect(Box(upper.x + 40, 14, upper.w - 80, 44), "$paper", EDGE),
            shade_box(upper.x + 1, 76, upper.w - 2, 7),
        )
    view = next((view for view in views(own) if view in CONSOLES), "")
    here = bool(view) and view_side(own, view) == side.side
    if here and is_open(own, view, side.scene.covers_off):
        drawing.add(small_parts.console_inside(box, parts_at(own, view)))
        drawing.part(view, Box(box.x, box.y, box.w, box.h - 12))
        return
    cover = next((cover for cover in side.on if region(own, cover) == box), None)
    if cover:
        with drawing.moving(f"cover {cover.name}", *box.middle, box.w):
            drawing.add(on_machine(own, cover, box, side.side, side.scene.screws_out.get(cover.name, 0)))
        return
    drawing.add(console_front(box, board=own.arrangement.board) if side.side == "front" else console_rear(box))


def _cabinet(drawing: Drawing, side: SideView) -> None:
    body, own = CABINET_BOX, side.own
    drawing.add(small_parts.feet(body))
    if not side.opened:
        drawing.add(rect(body, "$enamel", OUTLINE, 2))
        return
    drawing.add(small_parts.cabinet_inside(body))
    there = [one for one in standing(own, side.side) if not side.hidden(one.box) and one.box.y > body.y]
    drum = Box(DRUM[0] - DRUM[2], DRUM[1] - DRUM[2], 2 * DRUM[2], 2 * DRUM[2])
    if not side.hidden(drum):
        drawing.add(
            small_parts.drum_out(*DRUM) if side.drum_is_out else small_parts.drum(*DRUM, rear=side.side == "rear")
        )
    for one in there:
        if one.view.startswith("box-") and behind_drum(own) and not side.drum_is_out:
            continue
        if one.view == "block" and one.box.x < body.x:
            continue
        drawing.part(one.view, one.box)
        if one.view == "belt-idler" or (one.view == "door-frame" and one.box.y < body.y):
            continue
        drawing.add(_thing(side, one))
    for one in there:
        if one.view in side.scene.hot and one.view in drawing.parts:
            drawing.add_over(heat_waves(one.box.middle[0], one.box.y - 6, 0.8))
    _wires_to(drawing, side, there)
    _belt(drawing, side, there)


def _thing(side: SideView, one: Standing) -> str:
    own, parts = side.own, list(parts_at(side.own, one.view))
    if one.view.startswith("box-"):
        terminals = len([seat for seat in own.seats.values() if seat.box == int(one.view[4:]) - 1])
        covered = not side.terminals_bare(one.view)
        parts = [part for part in parts if part.kind.name == "splice" or is_bare(own, part.name, side.scene.covers_off)]
        return small_parts.heater_box(
            one.box, parts, covered=covered, tall=one.what == "tall box", rightward=one.rightward, terminals=terminals
        )
    shapes: dict[str, Callable[[], str]] = {
        "motor": lambda: small_parts.motor(one.box, parts),
        "blower": lambda: small_parts.blower(one.box, parts, rightward=one.box.middle[0] > DRUM[0]),
        "duct": lambda: small_parts.duct(one.box, parts, covered=side.cover_on("duct") is not None),
        "block": lambda: small_parts.block(one.box, strapped=own.arrangement.cord == "three-wire"),
        "door-frame": lambda: small_parts.door_frame(one.box, parts),
        "base": lambda: small_parts.relay_base(one.box),
    }
    return shapes[one.view]()


def _wires_to(drawing: Drawing, side: SideView, there: Sequence[Standing]) -> None:
    """Draw the wires of the heater box's terminals, by their seats, from the top of the cabinet's wall."""
    own = side.own
    for one in there:
        if not one.view.startswith("box-") or behind_drum(own) or not side.terminals_bare(one.view):
            continue
        ordered = [t for t in own.placement.in_order if own.seats[t].box == int(one.view[4:]) - 1]
        marks = [own.placement.mark_of(wire) for t in ordered for wire in own.arrangement.wires_at(t)[:1]]
        column = CABINET_BOX.x + 16 if one.box.middle[0] < DRUM[0] else CABINET_BOX.right - 16
        ends = [(one.box.x + 16 + k * 13, one.box.y + 5) for k in range(min(len(marks), 4))]
        if one.box.middle[0] >= DRUM[0]:
            ends = [(one.box.right - 16 - k * 13, one.box.y + 5) for k in range(min(len(marks), 4))]
        top = next(
            (w.y + w.h for w in side.shut if w.y <= CABINET_BOX.y and w.holds(Box(column, w.y + 1, 1, 1))),
            CABINET_BOX.y + 2,
        )
        drawing.add(small_parts.loom(top, column, ends, marks))


def _belt(drawing: Drawing, side: SideView, there: Sequence[Standing]) -> None:
    motor = next((one for one in there if one.view == "motor"), None)
    if motor is None or side.drum_is_out:
        return
    x, y = motor.box.middle[0], motor.box.y + 46
    right = x > DRUM[0]
    ix = x - 46 if right else x + 46
    iy = BASE_TOP - 14
    wheels: list[Wheel] = (
        [(*DRUM, 1), (x, y, 9, 1), (ix, iy, 9, -1)] if right else [(*DRUM, 1), (ix, iy, 9, -1), (x, y, 9, 1)]
    )
    drawing.add(small_parts.idler(ix, iy, (ix + (-10 if right else 10), iy + 24)))
    drawing.add(small_parts.belt_drawn(belt(wheels)))
    drawing.add(disc(x, y, 6, "$zinc", EDGE), disc(x, y, 2, "$ink", 0))
    if any(one.view == "belt-idler" for one in there):
        drawing.add(small_parts.sign("belt switch", ix, iy - 2))


def _shut_parts(drawing: Drawing, side: SideView) -> None:
    """Draw what is still in front: the shell that never comes off, then the covers that are on."""
    own = side.own
    for box in fixed_shell(own, side.side):
        drawing.add(sheet(box), door_on(box) if side.side == "front" else louvers(box))
    if side.side == "front" and not any(cover.name.startswith("top") for cover in own.covers):
        drawing.add(rect(Box(CABINET_BOX.x - 3, CABINET_BOX.y - 7, CABINET_BOX.w + 6, 13), "$enamel", OUTLINE, 4))
    if side.side == "rear":
        drawing.add(rect(Box(CABINET_BOX.x - 3, CABINET_BOX.y - 7, CABINET_BOX.w + 6, 13), "$enamel", OUTLINE, 4))
        drawing.add(_collar(side))
    for cover in reversed(side.on):
        where = region(own, cover)
        if where is None or where == CONSOLE_BOX:
            continue
        if where.x < CABINET_BOX.x - 10:
            drawing.add(_side_face())
        with drawing.moving(f"cover {cover.name}", *where.middle, where.w):
            drawing.add(on_machine(own, cover, where, side.side, side.scene.screws_out.get(cover.name, 0)))
        if side.side == "rear" and where.w > 100 and where.bottom >= CABINET_BOX.bottom - 1:
            drawing.add(_collar(side))
    _bared_corners(drawing, side)
    _over_the_top(drawing, side)


def _over_the_top(drawing: Drawing, side: SideView) -> None:
    """Draw what one sees over the front's edge where the top is off."""
    own = side.own
    if side.side != "front" or not any(cover.name.startswith("top") for cover in side.off):
        return
    drawing.add(rect(Box(CABINET_BOX.x + 3, CABINET_BOX.y - 6, CABINET_BOX.w - 6, 12), "$slate", EDGE, 2))
    one = next((one for one in standing(own, "front") if one.view == "door-frame" and one.box.y < CABINET_BOX.y), None)
    if one is not None:
        drawing.part(one.view, one.box)
        drawing.add(small_parts.door_frame(one.box, parts_at(side.own, one.view)))


def _side_face() -> str:
    face = Box(CABINET_BOX.x - 30, CABINET_BOX.y + 8, 30, CABINET_BOX.h - 8)
    return rect(face, "$enamel", OUTLINE, 2) + shade_box(face.x, face.y, face.w, face.h, 0.1)


def _collar(side: SideView) -> str:
    """Return the vent's collar low on the rear, where a sheet with it is on."""
    x = 322.0 if any("left" in cover.name or lies_on(cover) == "duct" for cover in side.covers) else 404.0
    where = Box(x - 20, CABINET_BOX.bottom - 62, 40, 40)
    if not side.hidden(where):
        return ""
    cx, cy = where.middle
    return disc(cx, cy, 20, "$zinc", OUTLINE) + disc(cx, cy, 14, "$slate", EDGE)


def _bared_corners(drawing: Drawing, side: SideView) -> None:
    """Draw the block where a small plate alone has come off the shell, or at the side."""
    own = side.own
    for cover in side.off:
        box = region(own, cover)
        if box is None or "plate" not in cover.name.split():
            continue
        if box.x < CABINET_BOX.x - 10:
            drawing.add(_side_face())
        larger = [where for other in side.off if (where := region(own, other)) is not None and where != box]
        small_alone = not any(where.holds(box) for where in larger)
        drawing.add(rect(box, "$slate" if small_alone else "$enamel", EDGE, 2))
        one = next((one for one in standing(own, side.side) if one.view == "block"), None)
        if one is not None:
            drawing.part("block", one.box)
            drawing.add(small_parts.block(one.box, strapped=own.arrangement.cord == "three-wire"))


def _relief(side: SideView) -> tuple[float, float]:
    """Return where the cord leaves the cabinet."""
    if side.side == "front":
        return CABINET_BOX.right, 420.0
    one = next((one for one in standing(side.own, "rear") if one.view == "block"), None)
    return (CABINET_BOX.right - 12, one.box.bottom + 34) if one else (CABINET_BOX.right - 12, 270.0)


def _relief_drawn(drawing: Drawing, side: SideView) -> None:
    if side.side == "front":
        return
    x, y = _relief(side)
    block = drawing.parts.get("block")
    if block:
        bx, by = block.middle[0], block.bottom - 10
        drawing.add(cord(f"M{bx} {by}Q{bx} {y} {x} {y}", 6))
    drawing.add(rect(Box(x - 9, y - 10, 22, 20), "$hole", EDGE, 4), line(x + 2, y - 10, x + 2, y + 10, 1, "$zinc"))
