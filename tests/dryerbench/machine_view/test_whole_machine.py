"""The whole machine: every arrangement, both sides, every order of covers, nothing overlapping, nothing given away."""

import re
from dataclasses import replace

import pytest

from dryerbench.family.faults import changed_machine, faults_of
from dryerbench.family.own_machine import OwnMachine
from dryerbench.machine_view.covers import bared_by, covers_on_side, is_open, region, side_of
from dryerbench.machine_view.geometry import Box
from dryerbench.machine_view.panels import heads
from dryerbench.machine_view.scene import SIDES, Scene
from dryerbench.machine_view.spots import views
from dryerbench.machine_view.stand import standing, view_side
from dryerbench.machine_view.whole_machine import machine_drawing, machine_svg

from .looks import NAMES, check_drawing, own, sheet, some, terminals_named, tree


def states(machine: OwnMachine) -> list[tuple[str, ...]]:
    names = [cover.name for cover in machine.covers]
    return [tuple(names[:count]) for count in range(len(names) + 1)]


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("side", SIDES)
def test_nothing_overlaps_and_targets_are_a_finger_apart_whatever_is_off(name: str, side: str) -> None:
    machine = sheet(name)
    for off in states(machine):
        for plugged, on, locked in ((True, True, False), (False, False, True)):
            scene = Scene(covers_off=off, side=side, plugged=plugged, breaker_on=on, locked=locked)
            check_drawing(machine_drawing(machine, scene))


@pytest.mark.parametrize("name", NAMES)
def test_every_cover_can_be_pressed_where_it_is_and_every_bared_place_can_be_looked_at(name: str) -> None:
    machine = sheet(name)
    for off in states(machine):
        for side in SIDES:
            drawing = machine_drawing(machine, Scene(covers_off=off, side=side))
            places = [target.name for target in drawing.targets]
            assert len(places) == len(set(places))
            for number, cover in enumerate(machine.covers, start=1):
                if cover.after in ("", *off):
                    assert (f"cover-{number}" in places) == (side_of(machine, cover) == side), cover.name
            for view in views(machine):
                if view != "wall":
                    here = view_side(machine, view) == side and is_open(machine, view, off)
                    assert (view in places) == here, (view, off)
            assert {"breaker", "wall", "plug", "tray"} <= set(places)


@pytest.mark.parametrize("name", NAMES)
def test_covers_lie_on_the_cabinet_and_those_of_one_side_do_not_overlap_unless_one_is_behind(name: str) -> None:
    machine = sheet(name)
    for side in SIDES:
        there = [(cover, region(machine, cover)) for cover in covers_on_side(machine, side)]
        for one, box in there:
            for other, second in there:
                if box and second and one.name < other.name and box.overlaps(second, by=14):
                    assert one.name in (other.after, one.name)
                    assert {one.after, other.after} & {one.name, other.name}


def belt_runs(svg: str) -> list[tuple[float, float, float, float]]:
    """Return the straight runs of the belts of a drawing, from what is drawn: start and end of each."""
    runs = set()
    for data in re.findall(r'd="(M[^"]+A[^"]+)"[^>]*stroke-dasharray="5 5"', svg):
        ends = re.findall(r"(?:^M|[AL](?:\S+ \S+ 0 [01] [01] )?)(-?[\d.]+) (-?[\d.]+)", data)
        places = [(float(x), float(y)) for x, y in ends]
        runs |= {(*a, *b) for a, b in zip(places[::2], places[1::2], strict=False)}
    return sorted(runs)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("side", SIDES)
def test_no_word_is_written_across_a_belt(name: str, side: str) -> None:
    machine = sheet(name)
    scene = Scene(covers_off=tuple(cover.name for cover in machine.covers), side=side, plugged=False, breaker_on=False)
    drawing = machine_drawing(machine, scene)
    runs = belt_runs(drawing.svg())
    assert len(runs) == 3 * drawing.svg().count('stroke-dasharray="5 5"')
    for word in drawing.words:
        for ax, ay, bx, by in runs:
            along = [(ax + (bx - ax) * k / 200, ay + (by - ay) * k / 200) for k in range(201)]
            assert not any(word.box.holds(Box(x, y, 0, 0)) for x, y in along), word.words


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("side", SIDES)
def test_a_hidden_fault_changes_nothing_with_covers_on_or_off(name: str, side: str) -> None:
    machine = own(name, 1)
    everything = tuple(cover.name for cover in machine.covers)
    for off in ((), everything):
        scene = Scene(covers_off=off, side=side)
        sound = machine_svg(machine, scene)
        for other in {changed_machine(machine.machine, (fault,)) for fault in faults_of(machine.arrangement)}:
            assert machine_svg(replace(machine, machine=other), scene) == sound, other.own


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("side", SIDES)
def test_with_covers_on_all_machines_of_an_arrangement_look_alike_and_what_was_seen_inside_does_not_show(
    name: str, side: str
) -> None:
    scene = Scene(side=side)
    looks = {machine_svg(machine, scene) for machine in some(name)}
    machine = sheet(name)
    seen = Scene(side=side, burnt=frozenset(machine.arrangement.points), hot=frozenset(views(machine)))
    looks |= {machine_svg(machine, seen), machine_svg(machine, replace(scene, tags={"Box.p": "one"}))}
    assert len(looks) == 1


@pytest.mark.parametrize("name", NAMES)
def test_no_terminal_wire_or_coil_is_named(name: str) -> None:
    for machine in some(name):
        for side in SIDES:
            off = tuple(cover.name for cover in machine.covers)
            assert not terminals_named(machine_svg(machine, Scene(covers_off=off, side=side)), machine)


def test_the_tray_counts_the_screws_that_are_out() -> None:
    machine = sheet("schoolroom")
    scene = Scene(side="rear", screws_out={"rear panel": 3}, covers_off=("rear plate",))
    words = [word.words for word in machine_drawing(machine, scene).words]
    assert "3 of 8" in words
    assert "1 of 1" in words
    panel = next(cover for cover in machine.covers if cover.name == "rear panel")
    assert len(heads(panel)) == 8


def test_the_drawing_says_what_stands_how() -> None:
    scene = Scene(covers_off=("top", "front"), breaker_on=False, locked=True, plugged=False)
    drawing = machine_drawing(sheet("cellar"), scene)
    assert drawing.told == "Top and front are off. Breaker off and locked, plug out."
    spoken = {target.name: target.spoken for target in drawing.targets}
    assert spoken["breaker"] == "breaker, off, locked"
    assert spoken["cover-3"] == "top, off, 2 of 2 screws out"


def test_what_is_chosen_is_told_to_readers_and_ringed() -> None:
    chosen = tree(machine_svg(sheet("cellar"), Scene(chosen="breaker")))
    pressed = [node for node in chosen.iter() if node.get("aria-pressed") == "true"]
    assert [node.get("data-place") for node in pressed] == ["breaker"]


def test_hot_and_out_of_reach_show_only_where_a_look_gets() -> None:
    machine = sheet("cellar")
    off = ("console back", "small rear plate", "top", "front", "box lid")
    plain = machine_svg(machine, Scene(covers_off=off))
    for view in ("box-1", "blower", "motor"):
        assert machine_svg(machine, Scene(covers_off=off, hot=frozenset({view}))) != plain
    assert "url(#hatch)" in machine_svg(machine, Scene(covers_off=off, out_of_reach=frozenset({"box-1"})))


def test_a_box_behind_the_drum_shows_once_the_drum_is_out() -> None:
    machine = sheet("mudroom")
    before = machine_drawing(machine, Scene(covers_off=("console", "toe panel", "front with door")))
    after = machine_drawing(machine, Scene(covers_off=("console", "toe panel", "front with door", "box cover")))
    assert "box-1" not in before.parts
    assert "box-1" in after.parts


@pytest.mark.parametrize("name", NAMES)
def test_the_block_is_seen_from_the_side_of_its_cover(name: str) -> None:
    machine = sheet(name)
    cover = bared_by(machine, "block")
    assert cover is not None
    assert view_side(machine, "block") == side_of(machine, cover)


@pytest.mark.parametrize("name", NAMES)
def test_a_box_of_any_machine_of_ones_own_stands_behind_the_cover_that_bares_its_terminals(name: str) -> None:
    for machine in some(name):
        there = {one.view: one.box for side in SIDES for one in standing(machine, side)}
        for terminal, seat in machine.seats.items():
            cover = bared_by(machine, terminal)
            where = region(machine, cover)
            if where is not None:
                assert where.holds(there[f"box-{seat.box + 1}"]), (terminal, cover.name)
        check_drawing(
            machine_drawing(machine, Scene(covers_off=tuple(one.name for one in machine.covers), side="rear"))
        )
