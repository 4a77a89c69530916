"""Calls to hand over on machines of the family: what is heard is what the physics makes; dead readings are enough."""

from __future__ import annotations

import pytest

from dryerbench.bench.acts import HANDS
from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import on_the_bench
from dryerbench.bench.worksite import situation_on
from dryerbench.core.random_stream import Stream
from dryerbench.core.tables import table
from dryerbench.diagnosis.machine_hand_over import (
    ELECTRICIAN,
    QUALIFIED,
    UTILITY,
    dead_readings_of,
    deal_hand_over,
    dealt_from,
    hands_of,
    heard_alike,
    heard_among,
    heard_on,
    taken_over,
)
from dryerbench.family.faults import read_fault
from dryerbench.family.machine import drawn_machine
from dryerbench.family.settings import read_setting
from dryerbench.family.shelf import arrangement, machine_names

OTHERS = [name for name in machine_names() if name != "schoolroom"]


@pytest.mark.parametrize("name", OTHERS)
def test_a_lost_leg_is_heard_as_the_machine_is_wired(name: str) -> None:
    """The leg that feeds the motor leaves the machine dead, the other leaves it cold; a board may need both."""
    made = arrangement(name)
    heard = heard_on(made)
    legs = {heard["leg-1-lost"], heard["leg-2-lost"]}
    assert legs == ({"dead"} if name == "pantry" else {"dead", "no-heat"})
    assert heard["service-neutral-lost"] == "lights"
    assert heard["motor-contact-open@Cen"] == "no-heat"
    assert heard["run-winding-open@Mot"] == "hums"
    assert "coil-aged" not in {one.partition("@")[0] for one in heard}


@pytest.mark.parametrize("name", OTHERS)
def test_what_is_heard_is_what_the_bench_does(name: str) -> None:
    made = arrangement(name)
    machine = on_the_bench(drawn_machine(made, Stream(f"test/{name}"), "test"))
    for fault in dealt_from(made):
        key = heard_on(made)[fault]
        bench = Bench(machine, (fault,))
        bench.do("ask_heat", heat=made.heats[0])
        bench.do("press_start")
        if key != "lights":
            assert bench.state.running == (key == "no-heat"), fault
        if key == "no-heat":
            bench.do("let_run")
            assert "the air stays cold" in bench.trail[-1]["happened"], fault
            assert situation_on(bench).state.running


@pytest.mark.parametrize("name", OTHERS)
def test_whose_each_is(name: str) -> None:
    made = arrangement(name)
    hands = hands_of(made)
    assert (hands["leg-1-lost"], hands["service-neutral-lost"]) == (ELECTRICIAN, UTILITY)
    assert hands["motor-contact-open@Cen"] == QUALIFIED
    assert taken_over(made, QUALIFIED) == set(hands)
    assert taken_over(made, UTILITY) == {"service-neutral-lost"}
    assert taken_over(made, ELECTRICIAN) == {one for one, whose in hands.items() if whose == ELECTRICIAN}
    for fault in heard_on(made):
        shown = dead_readings_of(made, read_fault(fault, made))
        assert bool(shown) or fault in hands or "neutral" in fault
        assert not [one for one in shown if read_setting(one.state).powered or read_setting(one.state).start_pressed]
    assert not {"neutral-lost-three-wire", "service-neutral-lost"} & (
        set(dealt_from(made)) if made.cord == "three-wire" else set()
    )


def test_what_is_heard_of_some_is_what_is_heard_of_them_among_all() -> None:
    made = arrangement("garage")
    some = frozenset(dealt_from(made))
    assert heard_among(made, some) == {name: key for name, key in heard_on(made).items() if name in some}
    assert "leg-2-lost" in heard_alike(made, "follower-open@RelB")
    assert "fuse-blown@Fuse" not in heard_alike(made, "follower-open@RelB")


def test_calls_are_dealt_on_every_other_machine_to_every_pair_of_hands_in_customers_words() -> None:
    visits = [deal_hand_over("x", Stream(f"test/{number}")) for number in range(200)]
    made = [visit.machine.stands.arrangement for visit in visits if visit.machine.stands]
    assert {one.name.lower() for one in made} == set(OTHERS)
    assert {hands_of(one)[visit.faults[0]] for one, visit in zip(made, visits, strict=True)} == set(HANDS)
    words = {row["words"]: row["heard"] for row in table("customer-words").rows if row["wrong"] == "yes"}
    assert all(words[visit.words] == visit.heard for visit in visits)
    again = deal_hand_over("x", Stream("test/7"))
    assert (again.machine.tag, again.faults, again.words) == (visits[7].machine.tag, visits[7].faults, visits[7].words)
