"""Machines and what holds of every drawing, for the tests of the machine view."""

import re
from collections.abc import Iterator
from itertools import combinations
from xml.etree import ElementTree as ET

from dryerbench.core.random_stream import Stream
from dryerbench.family.own_machine import OwnMachine, own_machine, sheet_machine
from dryerbench.family.shelf import arrangement, machine_names
from dryerbench.machine_view.drawing import LEAST_SIZE, TOUCH, Drawing
from dryerbench.machine_view.geometry import Box
from dryerbench.machine_view.plates import block_plates, drive_plates, heater_plates, vent_plates, wall_plates

NAMES = machine_names()
PLATES = (
    wall_plates.lockout,
    wall_plates.receptacle_faces,
    block_plates.strap,
    block_plates.cord_entry,
    heater_plates.heater_boxes,
    heater_plates.spades,
    drive_plates.belt_run,
    drive_plates.blower_wheel,
    vent_plates.vent_run,
    vent_plates.vent_parts,
)
SVG = "{http://www.w3.org/2000/svg}"


def sheet(name: str) -> OwnMachine:
    return sheet_machine(arrangement(name))


def own(name: str, seed: int) -> OwnMachine:
    return own_machine(arrangement(name), Stream(f"machine-view/{seed}"), f"A{seed}")


def some(name: str) -> Iterator[OwnMachine]:
    yield sheet(name)
    for seed in range(4):
        yield own(name, seed)


def tree(svg: str) -> ET.Element:
    return ET.fromstring(svg)


def check_drawing(drawing: Drawing, *, apart: bool = True) -> None:
    """Assert what holds of every drawing: it says what it is, nothing leaves the page, targets and words are apart."""
    root = tree(drawing.svg())
    assert root.find(f"{SVG}title").text
    assert root.find(f"{SVG}desc").text
    assert root.get("aria-label") == drawing.title
    page = Box(0, 0, drawing.width, drawing.height)
    for word in drawing.words:
        assert page.holds(word.box), word
    for name, box in drawing.parts.items():
        assert page.holds(box), name
    for one, other in combinations(drawing.words, 2):
        assert not one.box.overlaps(other.box), (one.words, other.words)
    for (a, one), (b, other) in combinations(drawing.parts.items(), 2):
        if not {a, b} & {"box", "board"}:
            assert not one.overlaps(other), (a, b)
    assert all(float(text.get("font-size")) >= LEAST_SIZE for text in root.iter(f"{SVG}text"))
    if apart:
        for one, other in combinations(drawing.targets, 2):
            far = ((one.x - other.x) ** 2 + (one.y - other.y) ** 2) ** 0.5
            assert far >= 2 * TOUCH - 0.01, (one.name, other.name, far)
    told = [node.get("aria-label") for node in root.iter() if node.get("role") == "button"]
    assert len(told) == len(drawing.targets)
    assert all(told)


def terminals_named(svg: str, machine: OwnMachine) -> set[str]:
    """Return the points, wires and parts of the file that the text of a drawing names."""
    made = machine.arrangement
    inner = [*made.points[4:], *(wire.name for wire in made.wires), *(coil.name for coil in made.coils)]
    return {name for name in inner if re.search(rf"\b{re.escape(name)}\b", svg)}
