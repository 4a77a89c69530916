"""The drawing holds every test point, wire and part of the circuit, and joins what the circuit joins."""

from __future__ import annotations

from base64 import b64decode

from dryerbench.bench.machine import Machine
from dryerbench.bench.states import State
from dryerbench.bench.wiring import points, pullable, wire_up
from dryerbench.drawing.panel_drawing import HEIGHT, PARTS, SPOTS, WIDTH, WIRES, drawing, neighbors, still

CIRCUIT = wire_up(Machine(), State())
_RUNS = {"start contact": "motor start contact", "frame strap, if any": "frame strap"}
_DIFFERENT = {"low heat contact", "start winding", "run winding"}  # each ends at a node that is no test point


def test_every_test_point_has_a_place_of_its_own() -> None:
    assert set(SPOTS) == set(points())
    places = [(x, y) for x, y, _ in SPOTS.values()]
    assert all(0 < x < WIDTH and 0 < y < HEIGHT for x, y in places)
    for one in places:
        near = [other for other in places if abs(one[0] - other[0]) < 50 and abs(one[1] - other[1]) < 50]
        assert near == [one]


def test_every_wire_that_can_be_pulled_is_drawn_once() -> None:
    names = [name for name, _ in WIRES if name]
    assert sorted(names) == sorted(pullable())


def test_the_parts_join_the_points_that_the_circuit_joins() -> None:
    at = {(x, y): name for name, (x, y, _) in SPOTS.items()}
    for name, a, b, _ in PARTS:
        part = CIRCUIT.part(_RUNS.get(name, name))
        drawn = {at[end] for end in (a, b) if end in at}
        assert drawn <= {part.a, part.b} | ({"W1", "W2", "W0", "H3", "N", "case", "L1", "D"} & drawn), name
        if name not in _DIFFERENT and len(drawn) == 2:
            assert drawn == {part.a, part.b}, name


def test_the_still_picture_is_a_picture_and_shows_the_state() -> None:
    closed = b64decode(still(points(), (), {"A": None, "B": None}, cover_off=False))
    opened = b64decode(still(points(), ("wire T1",), {"A": "T1", "B": "case"}, cover_off=True))
    assert closed.startswith(b"\x89PNG")
    assert closed != opened


def test_the_panel_gets_plain_data() -> None:
    data = drawing()
    assert {point["name"] for point in data["points"]} == set(points())
    assert all(point["title"] for point in data["points"])
    assert len(data["parts"]) == len(PARTS)


def test_arrow_keys_reach_every_point_from_every_other_in_a_few_presses() -> None:
    for there in (points(), tuple(point for point in points() if not point.endswith("-G"))):
        near = neighbors(there)
        for start in there:
            reached, edge, presses = {start}, {start}, 0
            while edge:
                edge = {other for one in edge for other in near[one].values()} - reached
                reached |= edge
                presses += bool(edge)
            assert reached == set(there), start
            assert presses <= 18


def test_arrow_keys_go_where_one_looks() -> None:
    near = neighbors(points())
    assert near["T1"] == {"ArrowLeft": "T0", "ArrowDown": "T2", "ArrowUp": "H8"}
    assert near["T0"]["ArrowRight"] == "T2"
    assert near["L1"]["ArrowRight"] == "H1"
    assert near["plug-1"]["ArrowLeft"] == "outlet-1"
