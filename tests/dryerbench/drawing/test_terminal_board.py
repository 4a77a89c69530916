"""The board of terminals: every point of any machine, apart from each other, all reached by arrow keys."""

from __future__ import annotations

from itertools import combinations

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import on_the_bench
from dryerbench.core.random_stream import Stream
from dryerbench.drawing.terminal_board import board_spots
from dryerbench.family.machine import drawn_machine
from dryerbench.family.shelf import arrangement, machine_names
from dryerbench.notebook.bench_view import menu_of, points_of

OTHERS = [name for name in machine_names() if name != "schoolroom"]


def stood(name: str) -> Bench:
    return Bench(on_the_bench(drawn_machine(arrangement(name), Stream(name), "tried")))


@pytest.mark.parametrize("name", OTHERS)
def test_every_point_is_there_apart_from_the_others_and_on_the_page(name: str) -> None:
    bench = stood(name)
    drawing = menu_of(bench)["drawing"]
    assert [point["name"] for point in drawing["points"]] == points_of(bench)
    wide, high = drawing["size"]
    for point in drawing["points"]:
        assert 0 < point["x"] < wide
        assert 0 < point["y"] < high
        assert point["title"]
    for one, other in combinations(drawing["points"], 2):
        assert abs(one["x"] - other["x"]) + abs(one["y"] - other["y"]) >= 40, (one, other)


@pytest.mark.parametrize("name", OTHERS)
def test_arrow_keys_reach_every_point(name: str) -> None:
    bench = stood(name)
    near = menu_of(bench)["neighbors"]
    reached, edge = {"plug-1"}, {"plug-1"}
    while edge:
        edge = {other for one in edge for other in near[one].values()} - reached
        reached |= edge
    assert reached == set(points_of(bench))


def test_a_part_of_many_terminals_takes_another_cell() -> None:
    spots = board_spots([f"Box.{letter}" for letter in "pqrstu"])
    assert len({(x, y) for x, y, _ in spots.values()}) == 6
    assert len({y for _, y, _ in spots.values()}) == 1
    assert spots["Box.t"][0] - spots["Box.s"][0] > 40
