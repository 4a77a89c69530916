"""The places of a machine follow from the machine alone: the same for everybody who has it, others for another."""

from __future__ import annotations

from dryerbench.bench.machine import on_the_bench
from dryerbench.bench.placement import placement_of
from dryerbench.core.random_stream import Stream
from dryerbench.family.machine import drawn_machine
from dryerbench.family.shelf import arrangement


def test_same_machine_same_places_other_machine_other_places() -> None:
    made = arrangement("alcove")
    ones = [on_the_bench(drawn_machine(made, Stream(f"test/{n}"), f"call 3 of {n}")) for n in range(12)]
    places = [placement_of(one) for one in ones]
    assert placement_of(ones[0]).marks == places[0].marks
    assert placement_of(ones[0]).seats == places[0].seats
    assert len({place.marks for place in places}) > 3
    assert len({tuple(sorted(place.seats.items())) for place in places}) > 3
    assert set(places[0].seats) == set(made.box_terminals)
