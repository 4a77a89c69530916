"""Clamp, temperature probe and airflow meter in every drawing: where they can be put, and where they are drawn."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import dist

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import on_the_bench
from dryerbench.core.random_stream import Stream
from dryerbench.family.machine import drawn_machine
from dryerbench.family.shelf import arrangement
from dryerbench.machine_view.close_up import close_up
from dryerbench.machine_view.drawing import TOUCH, Drawing
from dryerbench.machine_view.scene import SIDES, Scene
from dryerbench.machine_view.whole_machine import machine_drawing
from dryerbench.machine_view.wire_grips import grips
from dryerbench.notebook.machine_names import MachineNames, own_names
from dryerbench.notebook.machine_scene import Look, places, scene_of
from dryerbench.notebook.tool_places import clamp_places, probe_places

from .looks import NAMES, SVG, check_drawing, tree


def opened(name: str, luck: str = "0") -> MachineNames:
    bench = Bench(on_the_bench(drawn_machine(arrangement(name), Stream(f"{name}/{luck}"), f"held {luck}")))
    bench.do("unplug")
    bench.do("cover_off")
    return own_names(bench, named=False)


def drawings(names: MachineNames, dial: str, **put: str) -> Iterator[tuple[str, Scene, Drawing]]:
    for at, _ in places(names):
        scene = scene_of(names, Look(at=at, dial=dial, **put), hood=True)
        yield at, scene, machine_drawing(names.own, scene) if at in SIDES else close_up(names.own, at, scene)


@pytest.mark.parametrize("luck", ["0", "1", "2"])
@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("dial", ["clamp", "temp"])
def test_every_drawing_holds_with_a_tool_in_hand(name: str, dial: str, luck: str) -> None:
    for _, _, drawing in drawings(opened(name, luck), dial):
        check_drawing(drawing)
        assert not [one for one in drawing.targets if one.kind == "point"]
        for one in drawing.targets:
            assert 0 < one.x < drawing.width
            assert 0 < one.y < drawing.height


@pytest.mark.parametrize("name", NAMES)
def test_every_wire_that_can_be_clamped_has_its_place(name: str) -> None:
    names = opened(name)
    drawn = [one.name for at, _, drawing in drawings(names, "clamp") for one in drawing.targets if one.kind == "jaw"]
    offered = {token: key for key, (token, _) in clamp_places(names).items()}
    assert set(drawn) <= set(offered)
    left = set(offered) - set(drawn)
    jumper = {f"Box.{letter}" for letter in names.own.arrangement.jumper}
    for token in left:  # the jumper is one piece that has one place, whichever end it is called by
        assert names.wire_of[token].removeprefix("wire ").split("-")[0] in jumper
    assert len(drawn) == len(set(drawn)) + 3 - 1  # the whole cord is on both sides, and at the receptacle


@pytest.mark.parametrize("name", NAMES)
def test_every_place_for_the_probe_of_heat_is_drawn_once_and_no_other(name: str) -> None:
    names = opened(name)
    inside, air = [], set()
    for at, _, drawing in drawings(names, "temp"):
        found = [one.name for one in drawing.targets if one.kind == "warm"]
        inside += [] if at in SIDES else found
        air |= set(found) if at in SIDES else set()
    assert air == {"room", "exhaust"}
    assert sorted(inside) == sorted(set(probe_places(names)) - air)


def test_the_jaw_is_drawn_on_its_wire_and_on_no_other() -> None:
    for name in ("cabin", "workshop", "schoolroom"):
        names = opened(name)
        for token, _ in clamp_places(names).values():
            for at, _, drawing in drawings(names, "clamp", jaw=token):
                there = {one.name: (one.x, one.y) for one in drawing.targets if one.kind == "jaw"}
                jaws = [one for one in tree(drawing.svg()).iter(f"{SVG}g") if one.get("data-move") == "clamp"]
                assert len(jaws) == (token in there), (name, at, token)
                for one in jaws:
                    x, y = map(float, one.get("data-at").split())
                    assert dist((x, y), there[token]) < 0.01


def test_a_grip_lies_on_its_wire_and_grips_keep_apart() -> None:
    ways = tuple((((100.0 + 9 * k, 100.0), (100.0 + 9 * k, 400.0)), 4.0) for k in range(5))
    found = grips(ways, ((100.0, 120.0),), (760.0, 560.0))
    assert None not in found
    for (corners, _), (x, y, along) in zip(ways, found, strict=True):
        assert x == corners[0][0]
        assert 100.0 <= y <= 400.0
        assert along == 90.0
        assert dist((x, y), (100.0, 120.0)) >= 2 * TOUCH
    levels = sorted(y for _, y, _ in found)
    assert all(b - a > 40 for a, b in pairwise(levels))


def test_where_wires_have_no_room_as_many_as_fit_have_a_place() -> None:
    short = tuple((((100.0 + k, 100.0), (100.0 + k, 160.0)), 0.0) for k in range(4))
    found = grips(short, (), (760.0, 560.0))
    assert sum(one is not None for one in found) == 2


@pytest.mark.parametrize("name", NAMES)
def test_a_machine_with_its_covers_on_has_the_cord_alone(name: str) -> None:
    names = own_names(Bench(on_the_bench(drawn_machine(arrangement(name), Stream(name), name))), named=False)
    assert [token for token, _ in clamp_places(names).values()] == ["cord"]
    for at, scene, drawing in drawings(names, "temp"):
        assert set(scene.touchable) == {"room", "exhaust"}
        assert [one.name for one in drawing.targets if one.kind == "warm"] == (
            ["exhaust", "room"] if at in SIDES else []
        )


def test_with_two_probes_nothing_of_the_other_tools_is_drawn() -> None:
    for _, _, drawing in drawings(opened("cabin"), ""):
        assert {one.kind for one in drawing.targets} <= {"point", "place"}
