"""A machine settles: motors start or stop, breakers trip, cases and points go live."""

from __future__ import annotations

from dataclasses import dataclass, field

import pytest

from dryerbench.bench.faults import read_fault
from dryerbench.bench.machine import Machine
from dryerbench.bench.situation import Situation, breaker_holds, motor_turns, settle, starting
from dryerbench.bench.states import State, named_state
from dryerbench.bench.wiring import points
from dryerbench.circuits.solver import Pair


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


def test_an_open_neutral_makes_the_case_of_a_three_wire_machine_live() -> None:
    """The strap ties the case to the neutral: broken, it takes leg 1's volts through the motor and the board."""
    machine = Machine(cord="three-wire")
    now, _ = settle(machine, [read_fault("open-neutral")], named_state("standing"))
    assert now.case_volts > 100
    four, _ = settle(Machine(), [read_fault("open-neutral")], named_state("standing"))
    assert four.case_volts < 1
    sound, _ = settle(machine, [], named_state("heating"))
    assert sound.case_volts < 3


@dataclass
class Measured:
    """Stands for a solved circuit: what is between any two points, and the amps of each part."""

    pair: Pair = field(default_factory=lambda: Pair(0j, 0j))
    amperes: dict[str, complex] = field(default_factory=dict)

    def __getitem__(self, _: tuple[str, str]) -> Pair:
        return self.pair

    def at(self, point: str) -> complex:
        return self.pair.volts if point == "H1" else 0j

    def amps(self, part: str) -> complex:
        return self.amperes.get(part, 0j)


def between(volts: complex, ohms: complex) -> Situation:
    """Return a situation in which any two points face ``volts`` behind ``ohms``."""
    situation = Situation(Machine(), (), State())
    situation.__dict__["live"] = Measured(Pair(volts, ohms))
    return situation


@pytest.mark.parametrize(
    ("volts", "ohms", "live"),
    [
        (30.2, 0, True),
        (30, 0, False),
        (29.8, 0, False),
        (60.4, 3000, True),
        (59.6, 3000, False),
        (120j, 0, True),
        (120, 1e6, False),
    ],
)
def test_live_is_over_30_volts_into_3_kilohms(volts: complex, ohms: complex, live: bool) -> None:
    """30 V is the usual limit for dry skin (from memory of IEC 61010-1: 30 V r.m.s.)."""
    now = between(volts, ohms)
    assert now.is_live("H1", "H2") is live
    assert (now.hot_points(["H1", "no-such-point"]) == ["H1"]) is live


@pytest.mark.parametrize(("amps", "holds"), [(40.4, True), (40.6, False), (-40.6, False), (30.0, True)])
@pytest.mark.parametrize("pole", ["breaker 1", "breaker 2"])
def test_a_breaker_carries_1_35_of_its_rating_for_less_than_an_hour(pole: str, amps: float, holds: bool) -> None:
    """30 A · 1.35 = 40.5 A (UL 489, from memory)."""
    assert breaker_holds(Machine(breaker_amps=30.0), Measured(amperes={pole: complex(amps)})) is holds


@pytest.mark.parametrize(
    ("volts", "amps", "turns"), [(75, 1, True), (74.9, 5, False), (120, 0.9, False), (-120, -4, True)]
)
def test_a_motor_needs_volts_and_amps(volts: complex, amps: complex, turns: bool) -> None:
    assert motor_turns(Measured(Pair(volts, 0), {"run winding": amps})) is turns


def test_a_start_is_the_switch_held_with_the_rotor_at_rest() -> None:
    assert starting(State(running=True, calling=True)) == State(running=False, start_pressed=True, calling=True)


@pytest.mark.parametrize(("share", "holds"), [(1.0, True), (1.001, False)])
def test_a_breaker_at_its_very_limit_holds(share: float, holds: bool) -> None:
    assert breaker_holds(Machine(breaker_amps=20.0), Measured(amperes={"breaker 1": 27.0 * share})) is holds


def test_case_volts_are_read_through_ten_megohms() -> None:
    assert between(120, 0).case_volts == pytest.approx(120)
    assert between(-120, 1e7).case_volts == pytest.approx(60)
