"""The meter's face, of our own design: a display of drawn segments, three buttons, a dial of eight positions, leads.

Upright beside a machine, or wide under it on a phone; the same parts, another table of places. Lengths are units; the
upright form is shown at 0.83 at the least, so that a cell of the dial is 45 px there.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from dryerbench.core.errors import LegToLegError
from dryerbench.machine_view.drawing import Drawing, Target
from dryerbench.machine_view.geometry import Box, Place, away, number, outline, word_width
from dryerbench.machine_view.palette import LIGHT
from dryerbench.machine_view.segments import read_digits
from dryerbench.machine_view.strokes import (
    EDGE,
    FINE,
    OUTLINE,
    at,
    cord,
    disc,
    group,
    line,
    path,
    rect,
    shade,
    shade_box,
    text,
)

MODES = ("off", "volts", "LoZ", "ohms", "beep", "500 V", "clamp", "temp")
"""The dial's positions from the lowest one on, clockwise."""
BUTTONS = ("range", "hold", "relative")
BETWEEN = 6.0
"""Units between two buttons: half of it belongs to each, for a finger."""
_FIRST, _STEP = 90, 45
_PROBES = ("volts", "LoZ", "ohms", "beep", "500 V")


class MeterFaceError(LegToLegError, ValueError):
    """A mode that the dial does not have, or a display that segments cannot show."""


@dataclass(frozen=True, slots=True)
class Face:
    """What the meter shows.

    ``digits`` and ``unit`` as read; ``bar`` is the share of the range (1 and more: over it, None: no bar); ``note``
    the range or the limit in words; ``pressed`` the buttons that are in force; ``sounding`` the beeper, shown as a
    sign; ``fuse_open`` only where the lesson tells it: where it is a question, give the plain display instead.
    """

    mode: str = "off"
    digits: str = ""
    unit: str = ""
    note: str = ""
    auto: bool = True
    bar: float | None = None
    pressed: frozenset[str] = frozenset()
    sounding: bool = False
    fuse_open: bool = False
    chosen: str = ""


@dataclass(frozen=True, slots=True)
class Form:
    """Where everything of a face is: size, display, dial (center, ring, cell, knob), buttons, sockets."""

    size: Place
    display: Box
    digit: float
    small: float
    word: float
    dial: tuple[float, float, float, float, float]
    buttons: tuple[Box, ...]
    sockets: tuple[tuple[float, float, float], ...]


UPRIGHT = Form(
    (360, 520), Box(32, 26, 296, 116), 56, 14, 13, (180, 350, 100, 27, 58),
    (Box(24, 157, 100, 53), Box(130, 157, 100, 53), Box(236, 157, 100, 53)), ((54, 478, 17), (306, 478, 17)),
)  # fmt: skip
WIDE = Form(
    (404, 242), Box(17, 15, 153, 82), 30, 12, 12, (289, 121, 78, 25, 44),
    (Box(16, 109, 74, 54), Box(96, 109, 74, 54), Box(16, 169, 74, 54)), ((120, 209, 9), (168, 209, 9)),
)  # fmt: skip


def meter_face(face: Face, form: Form = UPRIGHT) -> Drawing:
    """Return the drawing of a meter's face.

    Raises
    ------
    MeterFaceError
        For a mode that the dial does not have, a button that is none, or digits that segments cannot show.
    """
    if face.mode not in MODES:
        raise MeterFaceError(f"The dial has no '{face.mode}'; it has {', '.join(MODES)}.")
    strange = sorted(face.pressed - set(BUTTONS))
    if strange:
        raise MeterFaceError(f"The meter has no button '{strange[0]}'; it has {', '.join(BUTTONS)}.")
    drawing = Drawing(*form.size, "Meter", told(face))
    w, h = form.size
    drawing.add(_body(w, h))
    _display(drawing, face, form)
    for name, box in zip(BUTTONS, form.buttons, strict=True):
        _button(drawing, name, box, face)
    _dial(drawing, face, form)
    _sockets(drawing, face, form)
    return drawing


def meter_svg(face: Face, form: Form = UPRIGHT, palette: Mapping[str, str] = LIGHT) -> str:
    """Return the SVG of a meter's face."""
    return meter_face(face, form).svg(palette)


def told(face: Face) -> str:
    """Return what the meter shows, in words."""
    if face.mode == "off":
        return "The meter is off."
    shown = "fuse open, in the meter, not the dryer" if face.fuse_open else f"{face.digits} {face.unit}".strip()
    more = [face.note, *sorted(face.pressed), "the beeper sounds" if face.sounding else ""]
    return f"Dial on {face.mode}. Display: {shown or 'nothing'}. {', '.join(one for one in more if one)}".strip()


def _body(w: float, h: float) -> str:
    c = 26.0 if h > w else 14.0
    corners = [
        (4 + c, 3),
        (w - 4 - c, 3),
        (w - 4, 3 + c),
        (w - 4, h - 3 - c * 1.6),
        (w - 4 - c * 1.6, h - 3),
        (4 + c * 1.6, h - 3),
        (4, h - 3 - c * 1.6),
        (4, 3 + c),
    ]
    inner = [(x + (w / 2 - x) * 12 / w, y + (h / 2 - y) * 12 / h) for x, y in corners]
    return path(outline(corners), "$slate", OUTLINE) + path(outline(inner), "none", FINE, "$zinc")


# --- the display -------------------------------------------------------------------------------------------------


def digits_box(form: Form) -> Box:
    """Return the box of the digits and their unit: below the line of signs, above the bar."""
    box = form.display
    base = box.bottom - 14 - form.digit - form.small * 1.1
    return Box(box.x + 10, base, box.w - 20, form.digit)


def bar_box(face: Face, form: Form) -> Box:
    """Return the box of the bar, its arrow not counted: as long as the note beside it allows."""
    box = form.display
    room = box.w - 20 - 18 - (word_width(face.note, _note_size(form)) if face.note else 0.0)
    return Box(box.x + 10, box.bottom - 14, min(box.w * 0.42, room), 7)


def _note_size(form: Form) -> float:
    return max(form.small * 0.92, 12.0)


def _display(drawing: Drawing, face: Face, form: Form) -> None:
    box, s = form.display, form.small
    x, w = box.x, box.w
    y = box.y - (0 if w > 200 else 4)  # of the line of signs: a small display has it close to its edge
    drawing.part("display", box)
    drawing.add(rect(box.grown(8), "$digits", 0, 10), rect(box, "$display", 0, 4), shade_box(x, box.y, w, 5, 0.12))
    if face.mode == "off":
        return
    drawing.word(x + 8, y + 8 + s, face.mode, s, weight=700, ink="$digits")
    if face.auto and (w > 200 or not (face.pressed or face.sounding)):
        drawing.word(x + w - 36, y + 8 + s, "auto", s, "end", ink="$digits")
    drawing.add(
        rect(Box(x + w - 27, y + s - 1, 18, 9), "none", 1.1, 1, "$digits"),
        rect(Box(x + w - 25, y + s + 1, 10, 5), "$digits", 0),
    )
    mark = x + 10 + s * 3.5
    for name in ("hold", "relative"):
        if name in face.pressed:
            words = name.upper() if name == "hold" else "REL"
            wide = s * (3.2 if name == "hold" else 2.5)
            drawing.add(rect(Box(mark, y + 7, wide, s + 5), "$digits", 0, 3))
            drawing.word(mark + wide / 2, y + 8 + s, words, s * 0.86 if s > 12 else 12, "middle", 700, "$display")
            mark += wide + 3
    if face.sounding:
        aside = (mark + 12, y + 4 + s * 0.75) if w > 200 else (x + 18, y + 48)
        drawing.add(at(*aside, _speaker("$digits"), scale=s / 15))
    base = digits_box(form).y
    if face.fuse_open:
        _fuse(drawing, form, base)
        return
    figures = _digits(face.digits, x + w - s * 4.4, base, form.digit)
    figures += text(x + w - 10, base + form.digit, face.unit, form.digit * 0.44, "$digits", "end", 600)
    drawing.add(group(figures, data_move="digits", data_shown=f"{face.digits} {face.unit}"))
    if face.bar is not None:
        drawing.add(_bar(bar_box(face, form), face.bar))
    if face.note:
        drawing.word(x + w - 10, box.bottom - 7, face.note, _note_size(form), "end", ink="$digits")


def _digits(digits: str, right: float, y: float, high: float) -> str:
    try:
        return read_digits(digits, right, y, high)
    except KeyError:
        raise MeterFaceError(f"The display cannot show '{digits}'; it shows digits, a point, a minus and OL.") from None


def _bar(box: Box, share: float) -> str:
    steps = 30 if box.w > 60 else 10
    ticks = "".join(
        line(box.x + box.w * k / steps, box.y, box.x + box.w * k / steps, box.y - (5 if k % 5 else 8), 1, "$digits")
        for k in range(steps + 1)
    )
    out = ticks + rect(Box(box.x, box.y + 2, box.w * min(max(share, 0.0), 1.0), 5), "$digits", 0)
    return out + (path(f"M{number(box.right + 2)} {number(box.y)}l6 4.5-6 4.5z", "$digits", 0) if share >= 1 else "")


def _fuse(drawing: Drawing, form: Form, base: float) -> None:
    box, dh = form.display, form.digit
    cx, cy, k = box.middle[0], base + dh / 2 + 2, dh / 52
    gone = (
        f"M{number(cx - 62 * k)} {cy}H{number(cx - 12 * k)}l6-8M{number(cx + 62 * k)} {cy}H{number(cx + 12 * k)}l-6 8"
    )
    drawing.add(
        rect(Box(cx - 36 * k, cy - 15 * k, 72 * k, 30 * k), "none", 2.6, 4, "$digits"),
        path(gone, "none", 2.6, "$digits"),
    )
    words = "fuse open, in the meter" if form is WIDE else "fuse open: in the meter, not the dryer"
    drawing.word(box.middle[0], box.bottom - 7, words, 12, "middle", 600, "$digits")


# --- dial, buttons, sockets --------------------------------------------------------------------------------------


def _speaker(ink: str) -> str:
    return path("M-9-3h4l5-5v16l-5-5h-4z", ink, 0) + path("M4-4q3 4 0 8M8-7q5 7 0 14", "none", 1.7, ink)


def _volts_sign(ink: str, left: float = 0.0) -> str:
    wave = at(left, -3.4, path("M-6 8q3-5 6 0t6 0", "none", 1.6, ink))
    return text(left, 0, "V", 15, ink, "middle", 700) + wave


def _bulb_sign(ink: str) -> str:
    tube = path("M-3 2v-9a3 3 0 0 1 6 0v9a5 5 0 1 1-6 0z", "none", 1.6, ink)
    return tube + disc(0, 6, 2.4, ink, 0) + line(0, 6, 0, -4, 1.8, ink)


def _megohm_sign(ink: str) -> str:
    return text(-4, 5, "MΩ", 13.5, ink, "middle", 700) + path("M13-7l-4 7h4l-2 6 6-8h-4l3-5z", ink, 0)


_SIGNS: dict[str, Callable[[str], str]] = {
    "off": lambda ink: disc(0, 1, 7, "none", 2, ink) + line(0, -8, 0, 1, 2.6, ink),
    "volts": _volts_sign,
    "LoZ": lambda ink: _volts_sign(ink, -2.0) + path("M9-7v9m-3-3l3 3.5 3-3.5", "none", 1.6, ink),
    "ohms": lambda ink: text(0, 7, "Ω", 20, ink, "middle", 700),
    "beep": _speaker,
    "500 V": _megohm_sign,
    "clamp": lambda ink: path("M-3 9a9 9 0 1 1 6 0", "none", 3, ink) + disc(0, 1, 2.6, ink, 0),
    "temp": _bulb_sign,
}
"""A mode's sign, about 18 units high, around the origin."""


def _dial(drawing: Drawing, face: Face, form: Form) -> None:
    cx, cy, ring, cell, knob = form.dial
    drawing.add(disc(cx, cy, ring + cell + 5, "$enamel", EDGE), disc(cx, cy, knob + 6, "none", FINE))
    for k, mode in enumerate(MODES):
        angle = _FIRST + k * _STEP
        x, y = away(cx, cy, angle, ring)
        on = mode == face.mode
        ink = "$on-ink" if on else "$ink"
        shown = disc(x, y, cell, "$ink" if on else "$white", OUTLINE if on else FINE)
        shown += at(x, y - 6, _SIGNS[mode](ink), scale=form.word / 13)
        if face.chosen == mode:
            shown += disc(x, y, cell + 4, "none", 2.6, "$focus")
        drawing.add(line(*away(cx, cy, angle, knob + 3), *away(cx, cy, angle, knob + 9), 2.4 if on else EDGE))
        shown += _wedge(form, angle)
        _press(drawing, "mode", mode, f"dial to {mode}", x, y, shown, on=on)
        drawing.word(x, y + cell * 0.66, mode, max(form.word * 0.93, 12), "middle", 700 if on else 400, ink)
    turn = _FIRST + MODES.index(face.mode) * _STEP
    grip = "".join(line(*away(0, 0, a, knob - 7), *away(0, 0, a, knob - 1), FINE) for a in range(0, 360, 12))
    hand = path(f"M{knob - 5} 0L{knob - 17}-9H{12 - knob}q-6 0-6 9q0 9 6 9H{knob - 17}Z", "$white", EDGE) + path(
        f"M{knob - 8} 0l-10-6v12z", "$ink", 0
    )
    drawing.add(disc(cx, cy, knob, "$zinc", OUTLINE))
    drawing.add(
        shade(f"M{cx - knob} {cy}a{knob} {knob} 0 0 0 {2 * knob} 0h-6a{knob - 6} {knob - 6} 0 0 1 {12 - 2 * knob} 0z")
    )
    with drawing.moving("knob", cx, cy, turn=turn):
        drawing.add(at(cx, cy, grip, hand, degrees=turn))


def reach_of(form: Form) -> tuple[float, float]:
    """Return the inner and the outer radius of what a finger presses for a position of the dial."""
    _, _, ring, cell, knob = form.dial
    return knob + 1.0, ring + cell + 9.0


def _wedge(form: Form, angle: float) -> str:
    """Return what takes a press for the position at ``angle``, not seen: its whole share of the dial."""
    x, y = form.dial[:2]
    inner, outer = reach_of(form)
    (ax, ay), (bx, by) = (away(x, y, angle + side, outer) for side in (-_STEP / 2, _STEP / 2))
    (cx, cy), (dx, dy) = (away(x, y, angle + side, inner) for side in (_STEP / 2, -_STEP / 2))
    edge = f"M{ax} {ay}A{outer} {outer} 0 0 1 {bx} {by}L{cx} {cy}A{inner} {inner} 0 0 0 {dx} {dy}Z"
    return path(edge, "$white", 0, opacity=0)


def _press(drawing: Drawing, kind: str, name: str, spoken: str, x: float, y: float, shown: str, *, on: bool) -> None:
    drawing.targets.append(Target(kind, name, spoken, x, y))
    pressed = "true" if on else "false"
    told_by = {f"data_{kind}": name, "role": "button", "tabindex": "0", "aria_label": spoken, "aria_pressed": pressed}
    drawing.add(group(shown, **told_by))


def _button(drawing: Drawing, name: str, box: Box, face: Face) -> None:
    on = name in face.pressed
    words = "rel" if name == "relative" and box.w < 80 else name
    lip = rect(Box(box.x, box.y + (0 if on else 4), box.w, box.h), "$ink", 0, 9)
    shown = lip + rect(Box(box.x, box.y + (2 if on else 0), box.w, box.h - 2), "$ink" if on else "$white", EDGE, 9)
    if on:
        shown += rect(Box(box.middle[0] - 12, box.bottom - 9, 24, 3), "$on-ink", 0, 1.5)
    if face.chosen == name:
        shown += rect(box.grown(3), "none", 2.6, 11, "$focus")
    edge = box.grown(BETWEEN / 2)
    reach = path(f"M{edge.x} {edge.y}H{edge.right}V{edge.bottom}H{edge.x}Z", "$white", 0, opacity=0)
    _press(drawing, "press", name, name, *box.middle, shown + reach, on=on)
    drawing.part(name, box)
    size = 15.0 if box.w > 60 else 13.5
    drawing.word(
        box.middle[0], box.middle[1] + 5 + (2 if on else 0), words, size, "middle", 600, "$on-ink" if on else "$ink"
    )


def _sockets(drawing: Drawing, face: Face, form: Form) -> None:
    """Draw the sockets with what hangs on them: two leads, the clamp's cord, or the temperature probe's."""
    _, down = form.size
    for bands, ((x, y, r), name) in enumerate(zip(form.sockets, ("common", "in"), strict=True), start=1):
        fill, words = ("$slate", "$on-slate") if bands == 1 else ("$live", "$on-live")
        drawing.add(disc(x, y, r + 3, "$enamel", EDGE))
        drawing.word(x, y - r - 8, name, 14 if r > 12 else 12, "middle", 600, "$on-slate")
        if face.mode in _PROBES or face.mode == "off":
            drawing.add(cord(f"M{x} {y}V{down}", 6, fill))
            drawing.add(
                disc(x, y, r, fill, EDGE), *(disc(x, y, r * (0.72 - 0.3 * k), "none", 2, words) for k in range(bands))
            )
        else:
            drawing.add(disc(x, y, r * 0.62, "$slate", EDGE))
    if face.mode in ("clamp", "temp"):
        x = sum(socket[0] for socket in form.sockets) / 2
        y, r = form.sockets[0][1], form.sockets[0][2]
        level = y + 1.3 * r
        (a, _, _), (b, _, _) = form.sockets
        drawing.add(
            cord(
                f"M{a} {y}Q{a} {level} {a + 2 * r} {level}H{b - 2 * r}Q{b} {level} {b} {y}M{x} {level}V{down}",
                5,
                "$enamel",
            )
        )
        y = level
        drawing.add(rect(Box(x - 1.6 * r, y - 0.75 * r, 3.2 * r, 1.5 * r), "$white", EDGE, 5))
        drawing.add(at(x, y, _SIGNS[face.mode]("$ink"), scale=max(r / 20, 0.62)))
