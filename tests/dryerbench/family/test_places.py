"""Everything has a place, and neither a place nor a mark gives the shared terminal away."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

import pytest

from dryerbench.core.random_stream import stream_for
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.places import MARKS, NEUTRAL, Placement, drawn_placement, plain_placement, seat_orders
from dryerbench.family.shelf import arrangement, machine_names

NAMES = machine_names()
SHARED = [name for name in NAMES if arrangement(name).shared]
IDS = 2200
MOST = {1: 15.2, 2: 18.5, 3: 21.2, 10: 35.6}
"""Chi-square that a fair draw stays under in 9,999 of 10,000 (standard tables, from memory), by degrees of freedom."""


def placements(made: Arrangement, count: int = IDS) -> Iterable[Placement]:
    for number in range(count):
        yield drawn_placement(made, stream_for(f"apprentice-{number}", f"bench/{made.name}"))


def unfair(found: Counter, choices: int) -> float:
    """Return chi-square against equal shares among ``choices``."""
    due = found.total() / choices
    return sum((count - due) ** 2 / due for count in found.values()) + (choices - len(found)) * due


@pytest.mark.parametrize("name", SHARED)
def test_no_seat_tells_the_shared_terminal(name: str) -> None:
    """Of the seats that a visible jumper leaves, the shared terminal has each equally often."""
    made = arrangement(name)
    ends = [f"Box.{letter}" for letter in made.jumper]
    found: Counter = Counter()
    for one in placements(made):
        left = [terminal for terminal in one.in_order if terminal not in ends]
        found[left.index(made.shared)] += 1
    choices = len(made.box_terminals) - len(ends)
    assert unfair(found, choices) < MOST[choices - 1]
    if not ends:
        seats = Counter(one.seats[made.shared] for one in placements(made))
        assert len(seats) >= choices


@pytest.mark.parametrize("name", SHARED)
def test_no_mark_tells_the_shared_terminal(name: str) -> None:
    """Its wire has each of the eleven marks equally often."""
    made = arrangement(name)
    wire = made.wires_at(made.shared)[0]
    found = Counter(one.mark_of(wire) for one in placements(made))
    assert set(found) == set(MARKS)
    assert unfair(found, len(MARKS)) < MOST[10]


@pytest.mark.parametrize("name", SHARED)
def test_no_order_of_marks_tells_it_either(name: str) -> None:
    """Ranked by their marks, the wires at the box put the shared one at each rank equally often."""
    made = arrangement(name)
    ends = [f"Box.{letter}" for letter in made.jumper]
    terminals = [terminal for terminal in made.box_terminals if terminal not in ends]
    wires = {terminal: made.wires_at(terminal)[0] for terminal in terminals}
    found: Counter = Counter()
    for one in placements(made):
        ranked = sorted(terminals, key=lambda terminal: MARKS.index(one.mark_of(wires[terminal])))
        found[ranked.index(made.shared)] += 1
    assert unfair(found, len(terminals)) < MOST[len(terminals) - 1]


@pytest.mark.parametrize("name", SHARED)
def test_the_shared_terminal_has_no_more_wires_than_others(name: str) -> None:
    made = arrangement(name)
    others = {len(made.wires_at(end)) for end in made.box_terminals if end != made.shared}
    assert len(made.wires_at(made.shared)) in others


@pytest.mark.parametrize("name", NAMES)
def test_marks_are_fair_to_a_person_who_traces(name: str) -> None:
    made = arrangement(name)
    for one in (plain_placement(made), *placements(made, 50)):
        at: dict[tuple[str, str], int] = Counter()
        for wire, mark in zip(made.wires, one.marks, strict=True):
            assert (mark == NEUTRAL) == ("N" in (wire.a, wire.b) and mark.tone != "bare")
            if mark == NEUTRAL or mark.tone == "bare":
                continue
            for part in {end.partition(".")[0] for end in (wire.a, wire.b)} - {"L1", "L2"}:
                at[part, str(mark)] += 1
        assert max(at.values()) == 1, [key for key, count in at.items() if count > 1]


@pytest.mark.parametrize("name", NAMES)
def test_every_terminal_has_a_seat_of_its_own_and_a_jumper_stays_short(name: str) -> None:
    made = arrangement(name)
    for one in placements(made, 100):
        assert set(one.seats) == set(made.box_terminals)
        assert len(set(one.seats.values())) == len(one.seats)
        assert all(seat.row >= 1 and seat.column >= 1 for seat in one.seats.values())
        for pair in [made.jumper] if made.jumper else []:
            a, b = (one.seats[f"Box.{letter}"] for letter in pair)
            assert abs(a.row - b.row) + abs(a.column - b.column) == 1


@pytest.mark.parametrize(
    ("name", "orders"),
    [("cellar", 2), ("mudroom", 24), ("pantry", 6), ("alcove", 24), ("hallway", 12), ("attic", 6), ("workshop", 4)],
)
def test_how_many_orders_there_are(name: str, orders: int) -> None:
    count = 1
    for possible in seat_orders(arrangement(name)):
        count *= len(possible)
    assert count == orders


def test_boxes_are_swapped_as_often_as_not() -> None:
    found = Counter(one.swapped for one in placements(arrangement("workshop")))
    assert unfair(found, 2) < MOST[1]
    assert not any(one.swapped for one in placements(arrangement("cellar"), 50))


def test_a_swapped_box_is_behind_the_door_of_the_place_where_it_stands() -> None:
    for one in placements(arrangement("workshop"), 40):
        for terminal, seat in one.seats.items():
            (door,) = one.covers_over(terminal)
            assert door.name == ("rear left door", "rear right door")[seat.box]
        assert one.covers_over("L1")[0].name == "rear right door"
        assert one.covers_over("LimA") == one.covers_over("Box.p")
        assert one.covers_over("LimB") == one.covers_over("Box.r")


@pytest.mark.parametrize("name", NAMES)
def test_every_point_can_be_reached_by_taking_covers_off_in_order(name: str) -> None:
    made = arrangement(name)
    one = plain_placement(made)
    order = [cover.name for cover in one.covers]
    for point in made.points:
        if point in ("G", "Spl.1"):
            continue
        covers = one.covers_over(point)
        assert [order.index(cover.name) for cover in covers] == sorted(order.index(cover.name) for cover in covers)
        assert one.screws_to(point) >= len(covers) > 0
    assert {name for name, _ in made.stands} == {part.name for part in made.parts}
    with pytest.raises(KeyError, match="hides Flywheel"):
        one.covers_over("Flywheel")


def test_the_cellars_cut_off_is_behind_three_covers() -> None:
    one = plain_placement(arrangement("cellar"))
    assert [cover.name for cover in one.covers_over("Cut.1")] == ["top", "front", "box lid"]
    assert one.screws_to("Cut") == 8
    assert [cover.name for cover in one.covers_over("L1")] == ["small rear plate"]


def test_the_same_person_has_the_same_places_again() -> None:
    made = arrangement("alcove")
    one, same, other = (drawn_placement(made, stream_for(who, "bench/alcove")) for who in ("ada", "ada", "ben"))
    assert (one.seats, one.marks) == (same.seats, same.marks)
    assert one.marks != other.marks
    assert len({seat.spot for seat in one.seats.values()}) == 4
