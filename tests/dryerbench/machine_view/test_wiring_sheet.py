"""The wiring sheet: every part once, joined as the wires join them, contacts as they stand in the title's state."""

from itertools import combinations

import pytest

from dryerbench.family.kinds import Component
from dryerbench.family.settings import read_setting
from dryerbench.machine_view.rungs import leftovers, rungs_of, walked
from dryerbench.machine_view.symbols import symbol
from dryerbench.machine_view.wiring_sheet import sheet_svg, wiring_sheet

from .looks import NAMES, check_drawing, own, sheet

STATES = ("off", "stop high", "run high", "run air")


def drawn_parts(name: str) -> list[str]:
    made = sheet(name).arrangement
    return [part for rung in rungs_of(made) for item in rung.items for part in item.names] + leftovers(made)


@pytest.mark.parametrize("name", NAMES)
def test_every_part_and_coil_is_drawn_once_and_no_other(name: str) -> None:
    made = sheet(name).arrangement
    found = sorted(drawn_parts(name))
    coils = [part for part in found if " coil " in part]
    assert len(coils) == len(made.coils)
    assert {frozenset((p[0], p[-1])) for p in coils} == {frozenset((coil.a, coil.b)) for coil in made.coils}
    parts = [part.name for part in made.parts if part.kind.name != "splice"]
    assert sorted(part for part in found if " coil " not in part) == sorted(parts)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("state", STATES)
def test_no_words_or_symbols_overlap(name: str, state: str) -> None:
    drawn = wiring_sheet(sheet(name), read_setting(state), state)
    check_drawing(drawn.drawing)
    for (a, one), (b, other) in combinations(drawn.symbols.items(), 2):
        assert not one.overlaps(other), (a, b)
    for net, x, top, low in drawn.verticals:
        for part, box in drawn.symbols.items():
            assert not (box.x + 1 < x < box.right - 1 and top < box.bottom - 1 and low > box.y + 1), (net, part)


@pytest.mark.parametrize("name", NAMES)
def test_every_part_hangs_between_the_nets_of_its_wires(name: str) -> None:
    made = sheet(name).arrangement
    for rung in rungs_of(made):
        for one, other in zip(rung.items, rung.items[1:], strict=False):
            assert made.net[one.right] == made.net[other.left], rung.title
    for way in made.ways:
        steps = walked(made, way)
        assert len(steps) == len(way.steps), way.title


@pytest.mark.parametrize("name", NAMES)
def test_columns_of_two_nets_on_one_line_do_not_touch(name: str) -> None:
    drawn = wiring_sheet(sheet(name), read_setting("off"), "off")
    for (net, x, top, low), (other, x2, top2, low2) in combinations(drawn.verticals, 2):
        assert net != other
        assert abs(x - x2) > 1 or low < top2 or low2 < top


def test_contacts_follow_the_state_of_the_title() -> None:
    machine = sheet("cellar")
    looks = {state: sheet_svg(machine, read_setting(state), "same title") for state in STATES}
    assert len(set(looks.values())) == len(STATES)
    door = sheet_svg(machine, read_setting("stop high, door open"), "same title")
    assert door != looks["stop high"]


def test_the_sheet_shows_this_machines_marks() -> None:
    one, other = (own("schoolroom", seed) for seed in (1, 2))
    setting = read_setting("off")
    assert sheet_svg(one, setting, "off") != sheet_svg(other, setting, "off")


@pytest.mark.parametrize("name", NAMES)
def test_each_kind_has_a_symbol_of_its_own_shape_open_and_closed(name: str) -> None:
    def shape(part: Component, *, closed: bool) -> str:
        return symbol(part, 100, 140, 50, closed=closed)

    for part in sheet(name).arrangement.parts:
        if part.kind.throws:
            assert shape(part, closed=True) != shape(part, closed=False), part.name


def test_the_strap_is_on_the_sheet_of_a_three_wire_machine_alone() -> None:
    words = {
        name: [w.words for w in wiring_sheet(sheet(name), read_setting("off"), "off").drawing.words]
        for name in ("cellar", "garage")
    }
    assert "strap to the cabinet" in words["cellar"]
    assert "strap to the cabinet" not in words["garage"]
