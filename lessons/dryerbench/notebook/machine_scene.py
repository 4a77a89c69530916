"""What the panel draws of a bench: the side or the place that is looked at, and the meter's face. Nothing is decided.

``Look`` is where a person stands and what they hold: it belongs to the page and is no part of the trail.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TypedDict

from dryerbench.bench.bench import Bench
from dryerbench.bench.meter_ranges import ranges
from dryerbench.bench.reading import ReadingData
from dryerbench.bench.schoolroom import FAMILY_PARTS
from dryerbench.bench.trail import Act
from dryerbench.bench.warm_and_burnt import box_is_hot, exhaust_is_hot, glowing_coils, seen_burnt
from dryerbench.family.own_machine import OwnMachine
from dryerbench.family.settings import Setting
from dryerbench.machine_view.close_up import close_up
from dryerbench.machine_view.covers import is_open
from dryerbench.machine_view.drawing import Drawing
from dryerbench.machine_view.locator import locator
from dryerbench.machine_view.meter_face import UPRIGHT, WIDE, Face, MeterFaceError, meter_face
from dryerbench.machine_view.picking import mark_symbols, terminals_of
from dryerbench.machine_view.scene import SIDES, Scene
from dryerbench.machine_view.side_view import spoken_view
from dryerbench.machine_view.spots import box_name, views
from dryerbench.machine_view.whole_machine import machine_drawing, machine_svg
from dryerbench.machine_view.wiring_sheet import wiring_sheet
from dryerbench.notebook.machine_names import MachineNames, own_machine_of, own_names
from dryerbench.notebook.tool_places import clamp_places, touched_places

DIAL = {"volts": "volts", "LoZ": "low-impedance", "ohms": "ohms", "beep": "continuity", "500 V": "insulation"}
"""The bench's setting for each position of the dial that two probes read with."""
WORDS = {mode: position for position, mode in DIAL.items()} | {"clamp": "clamp", "temperature": "temp"}
"""The dial's position for each mode of a reading."""
_AIR_WAY = {"blower", "duct"}
"""The close-ups of what the warm air goes through."""
_SHOWN = re.compile(r"(-?[0-9.]+|OL|-{2,4})\s*(.*)")


@dataclass
class Look:
    """Where one looks (a side or a place), where the tips are (spots), and what the meter's own keys do."""

    at: str = "front"
    tips: dict[str, str | None] = field(default_factory=lambda: {"A": None, "B": None})
    dial: str = ""
    """A position that is none of the bench's settings: off, clamp, temp; empty for the bench's own."""
    held: int | None = None
    """The place in the trail of the reading that the display holds."""
    jaw: str = ""
    """The id of the place where the clamp is; nothing if it is around no wire."""
    bead: str = ""
    """The id of the place where the temperature probe is; nothing if it touches nothing."""
    airflow: bool = False
    """Whether the airflow meter is at the vent hood."""
    picked: frozenset[str] | None = None
    """The symbols of the wiring sheet that are picked; None where nothing is: only practice marks parts."""


class Shown(TypedDict):
    """What a page shows: the drawing of what is looked at, the meter's face in both forms, and all in words."""

    drawing: dict[str, object]
    faces: list[str]
    view: dict[str, object]


SHEET = "sheet"
"""The wiring sheet, where names are shown; elsewhere its marks would tell which wire goes where."""


def places(names: MachineNames) -> list[list[str]]:
    """Return where one can look as things stand, each with its words: both sides, the receptacle, what is bare."""
    off = covers_off(names.own, names.bench)
    there = [view for view in views(names.own) if is_open(names.own, view, off)]
    sheet = [[SHEET, "wiring sheet"]] if names.named else []
    return [["front", "front"], ["rear", "rear"], *([view, spoken_view(view)] for view in there), *sheet]


def covers_off(own: OwnMachine, bench: Bench) -> tuple[str, ...]:
    """Return the covers that are off, in the order in which they come off."""
    return tuple(cover.name for cover in own.covers if cover.name in bench.covers_off)


def scene_of(names: MachineNames, look: Look, *, hood: bool = False) -> Scene:
    """Return what the drawing shows of the bench as it now is; ``hood``: the airflow can be read in this lesson."""
    bench, own = names.bench, names.own
    state = bench.state
    pulled = state.pulled if names.machine.stands else frozenset(FAMILY_PARTS.get(one, one) for one in state.pulled)
    hand = hand_of(bench, look)
    tips = [names.terminal(spot) if spot else "" for spot in look.tips.values()]
    return Scene(
        covers_off=covers_off(own, bench),
        pulled=pulled,
        tags=names.terminal_tags(),
        hot=_hot(names),
        glowing=_boxes(own, glowing_coils(bench)),
        burnt=seen_burnt(bench),
        picked=frozenset().union(*(terminals_of(own, one) for one in look.picked or ())),
        probes=(tips[0], tips[1]),
        plugged=state.plugged,
        splitter=bench.splitter,
        breaker_on=state.breaker_on,
        locked=bench.locked,
        side=look.at if look.at in SIDES else "front",
        named=names.named,
        hand=hand,
        wires=clamp_places(names) if hand == "clamp" else {},
        jaw=look.jaw,
        touchable=touched_places(names) if hand == "temp" else {},
        bead=look.bead,
        hood=hood,
        airflow=_airflow(bench) if look.airflow else None,
    )


def hand_of(bench: Bench, look: Look) -> str:
    """Return what the dial puts in the place of the two probes: ``clamp``, ``temp`` or nothing."""
    at = position(bench, look)
    return at if at in ("clamp", "temp") else ""


def _airflow(bench: Bench) -> str:
    """Return what the airflow meter shows: what it read, as long as nothing was done since."""
    last = bench.trail[-1] if bench.trail else None
    gauge = last.get("gauge") if last is not None and last["act"] == "airflow" else None
    return gauge["shown"] if gauge else ""


def _hot(names: MachineNames) -> frozenset[str]:
    there, bench = set(views(names.own)), names.bench
    boxes = {view for view in there if view.startswith("box-")} if box_is_hot(bench) else set()
    return frozenset(boxes | (there & _AIR_WAY if exhaust_is_hot(bench) else set()))


def _boxes(own: OwnMachine, coils: frozenset[str]) -> frozenset[str]:
    """Return the close-ups of the heater boxes in which ``coils`` are."""
    ends = [coil.ends[0] for coil in own.arrangement.coils if coil.name in coils]
    return frozenset(box_name(own.seats[end].box) for end in ends)


def drawn(names: MachineNames, look: Look, *, hood: bool = False) -> dict[str, object]:
    """Return the drawing of what is looked at, for a page: the SVG, what it shows, and where that is."""
    if look.at == SHEET:
        sheet = wiring_sheet(names.own, Setting(), "off")
        if look.picked is not None:
            mark_symbols(sheet, names.own, look.picked)
        return {"svg": sheet.drawing.for_page(), "at": look.at, "close": False, "locator": ""}
    scene = scene_of(names, look, hood=hood)
    close = look.at not in SIDES
    drawing = close_up(names.own, look.at, scene) if close else machine_drawing(names.own, scene)
    where = locator(names.own, look.at).for_page() if close else ""
    return {"svg": drawing.for_page(), "at": look.at, "close": close, "locator": where}


def still_machine(bench: Bench) -> str:
    """Return the machine from the front as an SVG, for a page without a live kernel."""
    return machine_svg(own_machine_of(bench), scene_of(own_names(bench, named=False), Look()))


def last_read(trail: Sequence[Act]) -> int | None:
    """Return the place of the last act of a trail that has a reading."""
    return next((place for place in reversed(range(len(trail))) if "reading" in trail[place]), None)


def on_display(trail: Sequence[Act], look: Look) -> tuple[ReadingData | None, bool]:
    """Return the reading on the display, held or the last one, and whether something was done since."""
    place = last_read(trail) if look.held is None else look.held
    if place is None or place >= len(trail):
        return None, False
    return trail[place].get("reading"), look.held is None and place < len(trail) - 1


def position(bench: Bench, look: Look) -> str:
    """Return where the dial stands."""
    return look.dial or WORDS[bench.mode]


def face_of(bench: Bench, look: Look) -> Face:
    """Return what the meter shows: the last reading of the setting on which it stands, or nothing."""
    at = position(bench, look)
    reading = on_display(bench.trail, look)[0]
    pressed = {"relative"} if bench.nulled and at in ("ohms", "beep") else set()
    pressed |= set() if look.held is None else {"hold"}
    if at not in DIAL:
        pressed.discard("relative")
    elif bench.full_scale is not None:
        pressed.add("range")
    note = next((one.show(one.full_scale) for one in ranges(bench.mode) if one.full_scale == bench.full_scale), "")
    face = Face(at, note=f"range {note}" if note and at in DIAL else "", auto=not note, pressed=frozenset(pressed))
    if at == "off" or reading is None or WORDS.get(reading["mode"], "") != at:
        return face
    shown = _SHOWN.fullmatch(reading["shown"])
    if shown is None:
        return face
    share = abs(reading["value"]) / reading["full_scale"] if reading["value"] is not None else None
    return Face(
        at,
        shown[1],
        shown[2] or {"ohm": "Ω"}.get(reading["unit"], reading["unit"]),
        face.note,
        face.auto,
        1.0 if shown[1] == "OL" else share,
        face.pressed,
        sounding=bool(reading["beeps"]),
    )


def faces(bench: Bench, look: Look) -> list[str]:
    """Return the meter's face for a page, upright and wide; what its segments cannot show stays in words alone."""
    return list(_both_forms(face_of(bench, look)))


@lru_cache(maxsize=64)
def _both_forms(face: Face) -> tuple[str, ...]:
    try:
        found: list[Drawing] = [meter_face(face, form) for form in (UPRIGHT, WIDE)]
    except MeterFaceError:
        return _both_forms(Face(face.mode, auto=face.auto, pressed=face.pressed))
    return tuple(drawing.for_page() for drawing in found)
