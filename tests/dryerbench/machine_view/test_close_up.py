"""Close-ups: every point once, no name, a finger apart; nothing tells a fault or the shared terminal."""

from dataclasses import replace
from itertools import combinations

import pytest

from dryerbench.family.arrangement import CABINET, EARTH, Mark
from dryerbench.family.faults import changed_machine, faults_of
from dryerbench.family.own_machine import OwnMachine
from dryerbench.family.places import Placement, seat_orders
from dryerbench.machine_view.close_up import close_up, close_up_svg
from dryerbench.machine_view.fittings import tag_box
from dryerbench.machine_view.scene import Scene
from dryerbench.machine_view.spots import spots_at, spots_of, views

from .looks import NAMES, check_drawing, own, sheet, some, terminals_named, tree


def bare(machine: OwnMachine) -> Scene:
    return Scene(covers_off=tuple(cover.name for cover in machine.covers), plugged=False)


@pytest.mark.parametrize("name", NAMES)
def test_every_point_of_the_machine_is_in_one_close_up_and_has_a_spot_there(name: str) -> None:
    machine = sheet(name)
    found = [point for view in views(machine) for point in spots_of(machine, view).values() if point != CABINET]
    inside = [point for point in found if not point.startswith(("outlet-", "plug-"))]
    assert sorted(inside) == sorted(set(machine.arrangement.points) - {CABINET, EARTH})
    for view in views(machine):
        drawn = [target.name for target in close_up(machine, view, bare(machine)).targets]
        assert sorted(drawn) == sorted(spots_of(machine, view)), view


@pytest.mark.parametrize("name", NAMES)
def test_nothing_overlaps_and_spots_are_a_finger_apart(name: str) -> None:
    for machine in some(name):
        for view in views(machine):
            check_drawing(close_up(machine, view, bare(machine)))
            check_drawing(close_up(machine, view, replace(bare(machine), named=True)))


@pytest.mark.parametrize("name", NAMES)
def test_no_terminal_wire_or_coil_is_named(name: str) -> None:
    for machine in some(name):
        for view in views(machine):
            assert not terminals_named(close_up_svg(machine, view, bare(machine)), machine)


def with_seats(machine: OwnMachine, order: dict[str, tuple[int, int]]) -> OwnMachine:
    """Return the machine with its first box's terminals in another order, and no wire's mark different from another."""
    made, old = machine.arrangement, machine.placement
    seats = dict(old.seats)
    for letter, (column, row) in order.items():
        seats[f"Box.{letter}"] = next(s for s in old.seats.values() if (s.box, s.column, s.row) == (0, column, row))
    marks = tuple(Mark("black", "dash") for _ in made.wires)
    return OwnMachine(machine.machine, Placement(made, seats, marks, old.mirrored, old.turned, old.swapped))


@pytest.mark.parametrize("name", [name for name in NAMES if sheet(name).arrangement.shared])
@pytest.mark.parametrize("done", ["nothing", "pulled", "tagged", "probed", "named"])
def test_but_for_the_marks_of_wires_the_box_looks_the_same_wherever_the_shared_terminal_sits(
    name: str, done: str
) -> None:
    machine = sheet(name)
    made = machine.arrangement
    looks = {}
    for order in seat_orders(made)[0]:
        moved = with_seats(machine, dict(order))
        first, second = (spots_of(moved, "box-1")[seat.spot] for seat in sorted(moved.seats.values())[:2])
        told = {
            "nothing": {},
            "pulled": {"pulled": frozenset(f"{wire.name}@{first}" for wire in made.wires_at(first))},
            "tagged": {"tags": {first: "1", second: "2"}},
            "probed": {"probes": (first, second), "chosen": first},
            "named": {"named": True},
        }[done]
        svg = close_up_svg(moved, "box-1", replace(bare(machine), **told))
        looks.setdefault(svg, set()).add(tuple(moved.seats[f"Box.{end}"] for end in made.jumper))
    seen = len(looks)
    assert seen == 1 if not made.jumper else all(len(pairs) == 1 for pairs in looks.values())


def test_that_comparison_would_see_a_terminal_that_looks_different() -> None:
    machine = sheet("schoolroom")
    burnt = {
        close_up_svg(with_seats(machine, dict(order)), "box-1", replace(bare(machine), burnt=frozenset({"Box.q"})))
        for order in seat_orders(machine.arrangement)[0]
    }
    assert len(burnt) == 4


@pytest.mark.parametrize("name", NAMES)
def test_a_hidden_fault_changes_no_close_up(name: str) -> None:
    machine = own(name, 2)
    others = {changed_machine(machine.machine, (fault,)) for fault in faults_of(machine.arrangement)}
    assert len(others) > 1
    for view in views(machine):
        sound = close_up_svg(machine, view, bare(machine))
        for other in others:
            assert close_up_svg(replace(machine, machine=other), view, bare(machine)) == sound, other.own


@pytest.mark.parametrize("name", NAMES)
def test_with_the_covers_on_a_close_up_has_no_spot_but_bare_metal_and_tells_no_machine_from_another(name: str) -> None:
    for view in views(sheet(name)):
        if view == "wall":
            continue
        for machine in some(name):
            drawing = close_up(machine, view, Scene())
            splices = {p for p in spots_at(machine, view) if p.startswith("Spl")}
            reached = {spots_of(machine, view)[target.name] for target in drawing.targets} - {CABINET}
            assert reached <= splices, view


def test_a_cover_that_is_on_hides_its_terminals_alone() -> None:
    pantry = sheet("pantry")
    scene = Scene(covers_off=("top", "toe panel", "front"))
    reached = {spots_of(pantry, "box-1")[t.name] for t in close_up(pantry, "box-1", scene).targets}
    assert {"Lim.1", "Lim.2", "Cut.1", "Cut.2"} <= reached
    assert not reached & set(pantry.arrangement.box_terminals)


@pytest.mark.parametrize("name", NAMES)
def test_a_wire_that_is_off_shows_and_is_told(name: str) -> None:
    machine = sheet(name)
    point = machine.placement.in_order[0]
    wire = machine.arrangement.wires_at(point)[0]
    view = f"box-{machine.seats[point].box + 1}"
    plain, scene = bare(machine), replace(bare(machine), pulled=frozenset({f"{wire.name}@{point}"}))
    before, after = close_up(machine, view, plain), close_up(machine, view, scene)
    assert before.svg() != after.svg()
    spoken = next(t.spoken for t in after.targets if t.name == machine.seats[point].spot)
    several = len(machine.arrangement.wires_at(point)) > 1
    assert spoken.endswith("wire off") != several
    check_drawing(after)


@pytest.mark.parametrize("name", NAMES)
def test_tags_carry_the_persons_own_words_and_do_not_cover_each_other_or_another_spot(name: str) -> None:
    machine = sheet(name)
    for view in views(machine):
        if view == "wall":
            continue
        points = [point for point in spots_at(machine, view) if point != CABINET]
        scene = replace(bare(machine), tags={point: str(k) for k, point in enumerate(points, start=1)})
        drawing = close_up(machine, view, scene)
        cards = [box for part, box in drawing.parts.items() if part.startswith("tag ")]
        assert len(cards) == len(points)
        for one, other in combinations(cards, 2):
            assert not one.overlaps(other), view
        for target in drawing.targets:
            assert not any(card.x < target.x < card.right and card.y < target.y < card.bottom for card in cards)
        assert {f"tagged {k}" for k in range(1, len(points) + 1)} == {
            t.spoken.rpartition(", ")[2] if "off" not in t.spoken else t.spoken.split(", ")[2]
            for t in drawing.targets
            if "tagged" in t.spoken
        }


def test_words_on_a_tag_are_words_and_no_markup() -> None:
    machine = sheet("cellar")
    svg = close_up_svg(machine, "box-1", replace(bare(machine), tags={"Box.p": '<b fill="$ink">&'}))
    assert "<b " not in svg
    assert any("$ink" in (node.text or "") for node in tree(svg).iter())
    assert tag_box(0, 0, "1").w <= tag_box(0, 0, "to the left coil").w


@pytest.mark.parametrize("state", ["burnt", "hot", "chosen", "probes", "pulled"])
def test_each_state_changes_the_drawing_in_shape_not_in_color_alone(state: str) -> None:
    machine = sheet("schoolroom")
    told = {
        "burnt": {"burnt": frozenset({"Box.q"})},
        "hot": {"hot": frozenset({"box-1"})},
        "chosen": {"chosen": "Box.q"},
        "probes": {"probes": ("Box.q", "Box.p")},
        "pulled": {"pulled": frozenset({"wire Box.q-Cen.1"})},
    }[state]

    def shapes(scene: Scene) -> list[str]:
        nodes = tree(close_up_svg(machine, "box-1", scene)).iter()
        return [f"{n.tag}{n.get('d')}{n.get('x')}{n.get('cx')}{n.get('r')}{n.get('transform')}" for n in nodes]

    assert shapes(bare(machine)) != shapes(replace(bare(machine), **told))


def test_a_close_up_that_the_machine_does_not_have_is_refused() -> None:
    with pytest.raises(KeyError, match="no close-up 'cupboard'"):
        close_up(sheet("cellar"), "cupboard", Scene())


def test_the_receptacle_has_three_slots_or_four_and_the_blades_are_its_mirror() -> None:
    for name, count in (("cellar", 3), ("garage", 4)):
        machine = sheet(name)
        drawing = close_up(machine, "wall", bare(machine))
        slots = {t.name: t.x for t in drawing.targets if t.name.startswith("wall")}
        blades = {t.name: t.x for t in drawing.targets if t.name.startswith("plug")}
        assert len(slots) == len(blades) == count
        assert slots["wall-1"] < slots["wall-3"]
        assert blades["plug-1"] > blades["plug-3"]
        assert not close_up(machine, "wall", Scene(plugged=True)).targets
