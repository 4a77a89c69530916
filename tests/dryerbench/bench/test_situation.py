"""A machine settles: motors start or stop, breakers trip, cases and points go live."""

from __future__ import annotations

import pytest

from dryerbench.bench.faults import read_fault
from dryerbench.bench.machine import Machine
from dryerbench.bench.situation import settle
from dryerbench.bench.states import State, named_state
from dryerbench.bench.wiring import points


def test_a_sound_machine_keeps_its_state() -> None:
    for name in ("standing", "heating", "unplugged", "tumbling"):
        now, happened = settle(Machine(), [], named_state(name))
        assert now.state == named_state(name)
        assert not happened


def test_start_brings_the_motor_up() -> None:
    now, happened = settle(Machine(), [], State(start_pressed=True))
    assert now.state.running
    assert happened == ("the motor comes up to speed",)


@pytest.mark.parametrize("name", ["lost-leg-1", "open-neutral", "door-switch-open", "run-winding-open"])
def test_no_start_without_its_volts(name: str) -> None:
    now, _ = settle(Machine(), [read_fault(name)], State(start_pressed=True))
    assert not now.state.running


def test_a_motor_stops_when_its_supply_goes() -> None:
    state = State(running=True, plugged=False)
    now, happened = settle(Machine(), [], state)
    assert not now.state.running
    assert happened == ("the motor stops",)


@pytest.mark.parametrize(("share", "trips"), [(0.05, True), (0.5, False)])
def test_an_element_grounded_near_its_line_end_trips_and_in_the_middle_does_not(share: float, trips: bool) -> None:
    now, happened = settle(Machine(), [read_fault(f"element-1-grounded={share}")], named_state("heating"))
    assert ("the breaker trips" in happened) is trips
    assert now.state.breaker_on is not trips


def test_an_unbonded_grounded_element_makes_the_case_live() -> None:
    faults = [read_fault("element-1-grounded=0.9"), read_fault("missing-bond")]
    now, _ = settle(Machine(), faults, named_state("heating"))
    assert now.is_live("case", "earth")
    assert now.case_volts > 90
    bonded, _ = settle(Machine(), faults[:1], named_state("heating"))
    assert bonded.case_volts < 5


def test_live_points_are_those_behind_a_closed_breaker() -> None:
    standing, _ = settle(Machine(), [], named_state("standing"))
    assert {"L1", "L2", "H1"} <= set(standing.hot_points(points()))
    assert "S1" not in standing.hot_points(points())
    locked, _ = settle(Machine(), [], named_state("locked-out"))
    assert locked.hot_points(points()) == []


def test_the_tag_does_not_depend_on_the_order_of_a_set() -> None:
    one, _ = settle(Machine(), [], State(pulled=frozenset({"wire T1", "wire T2"})))
    two, _ = settle(Machine(), [], State(pulled=frozenset({"wire T2", "wire T1"})))
    assert one.tag == two.tag
    assert one.tag != settle(Machine(leg_volts=119.0), [], one.state)[0].tag


def test_warmth_follows_the_faults() -> None:
    now, _ = settle(Machine(), [read_fault("blocked-vent=0.6")], named_state("heating"))
    assert now.warmth.limit_celsius == pytest.approx(Machine().limit_opens + 9.0)
    assert now.state.limit_celsius == 95


def test_an_open_neutral_makes_the_case_of_a_three_wire_machine_live() -> None:
    """The strap ties the case to the neutral: broken, it takes leg 1's volts through the motor and the board."""
    machine = Machine(cord="three-wire")
    now, _ = settle(machine, [read_fault("open-neutral")], named_state("standing"))
    assert now.case_volts > 100
    four, _ = settle(Machine(), [read_fault("open-neutral")], named_state("standing"))
    assert four.case_volts < 1
    sound, _ = settle(machine, [], named_state("heating"))
    assert sound.case_volts < 3
