"""Heat on the bench: what was found wrong comes out as it does on a machine, and each sentence of the lessons holds."""

from dataclasses import replace
from itertools import pairwise

import pytest

from dryerbench.air.cycle import Cycle
from dryerbench.air.heat_ratings import dry_air
from dryerbench.bench.bench import Bench, replay
from dryerbench.bench.faults import fault_names, fits, read_fault
from dryerbench.bench.heat import (
    CUTOFF,
    CYCLING,
    LIMIT_SWITCH,
    after_running,
    asked_for,
    cold_heat,
    pass_minutes,
)
from dryerbench.bench.machine import Machine
from dryerbench.bench.schoolroom import schoolroom
from dryerbench.bench.states import State, named_state
from dryerbench.bench.worksite import machine_on

MACHINE = Machine()
ON = State(running=True, calling=True)


def after(*faults, minutes=10.0, state=ON, machine=MACHINE):
    return after_running(machine, tuple(read_fault(fault) for fault in faults), state, float(minutes))


def exhaust(*faults, **more):
    return after(*faults, **more).state.exhaust_celsius


def ran(*faults, runs=1, low=False):
    bench = Bench(faults=faults)
    bench.do("ask_heat", heat="low" if low else "high")
    bench.do("press_start")
    for _ in range(runs):
        bench.do("let_run")
    return bench


def test_good_air_is_what_blower_and_duct_agree_on():
    assert dry_air(schoolroom().air.cfm) == pytest.approx(Cycle().dry_air_flow, rel=5e-3)


def test_the_exhaust_follows_the_watts():
    two_open = ("element-1-open", "element-2-open")
    warm = [exhaust(*faults) for faults in ((), ("supply-208",), ("element-1-open",), two_open)]
    assert warm == sorted(warm, reverse=True)
    assert min(a - b for a, b in pairwise(warm)) > 2.0
    assert warm[0] > 50.0
    assert warm[-1] < 40.0


def test_eighty_minutes_cycle_on_the_thermostat_alone():
    bench = ran(runs=8)
    assert after(minutes=80.0).opened(CYCLING) > 5
    assert after(minutes=80.0).opened(LIMIT_SWITCH) == 0
    assert all("clicks" not in word for act in bench.trail for word in act["happened"])
    assert {act["happened"][-1] for act in bench.trail if act["act"] == "let_run"} == {"warm air comes out"}


@pytest.mark.parametrize("share", [0.35, 0.5, 0.6, 0.7, 0.8])
def test_a_blocked_vent_clicks_its_limit_off_and_on(share):
    """Catalogue: 'limit clicks on and off'; on the bench from the first run on, and the cut-off stays whole."""
    found = after(f"blocked-vent={share}", minutes=60.0)
    assert found.opened(LIMIT_SWITCH) > 10
    assert not found.state.cutoff_blown
    assert "a switch at the heater box clicks off and on" in ran(f"blocked-vent={share}").trail[-1]["happened"]


def test_a_clean_vent_never_opens_the_limit_not_even_with_a_welded_thermostat():
    for faults in ((), ("cycling-welded",), ("cycling-welded", "high-limit-stuck")):
        for volts in (117.0, 120.0, 123.0):
            machine = replace(MACHINE, leg_volts=volts, element_ohms=(26.0, 26.0, 26.0))
            found = after(*faults, minutes=90.0, machine=machine)
            assert found.opened(LIMIT_SWITCH) == 0
            assert not found.state.cutoff_blown


def test_a_welded_thermostat_is_too_hot_once_the_load_is_dry():
    """Catalogue: 'too hot at the end of a load'; lesson 08: hot, not slow."""
    welded, sound = after("cycling-welded", minutes=60.0), after(minutes=60.0)
    assert welded.opened(CYCLING) == 0
    assert welded.state.exhaust_celsius > 80.0 > MACHINE.cycling_opens + 5.0 > sound.state.exhaust_celsius
    assert exhaust("cycling-welded") == exhaust()  # while it is wet nothing shows


def test_limit_stuck_and_thermostat_welded_heats_until_the_cut_off_blows_where_the_air_is_short():
    found = after("cycling-welded", "high-limit-stuck", "blocked-vent=0.6")
    assert found.state.cutoff_blown
    assert found.state.exhaust_celsius < 30.0
    # A welded thermostat never stops a cut-off that would blow.
    for share in (0.55, 0.6, 0.7, 0.8):
        both = ("high-limit-stuck", f"blocked-vent={share}")
        alone, welded = (
            after(*faults, minutes=60.0).state.cutoff_blown for faults in (both, (*both, "cycling-welded"))
        )
        assert welded >= alone


def test_a_cut_off_that_blew_is_felt_and_stays_blown():
    bench = ran("blocked-vent=0.6", "high-limit-stuck")
    assert bench.trail[-1]["happened"] == ["the thermal cut-off blows", "the air stays cold"]
    bench.do("cool_down")
    assert bench.state.cutoff_blown
    assert bench.do("let_run")["happened"] == ["the air stays cold"]
    bench.do("stop")
    for act in ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off"):
        bench.do(act)
    bench.do("replace_part", part="thermal cut-off")
    assert not bench.state.cutoff_blown


def test_a_dead_machine_stays_at_the_rooms_temperature():
    for fault in ("lost-leg-1", "door-switch-open", "open-neutral"):
        bench = ran(fault, runs=2)
        assert bench.trail[-1]["happened"] == ["the air stays cold"]
        assert bench.state.exhaust_celsius == bench.state.limit_celsius == 25.0


@pytest.mark.parametrize("fault", ["cut-off-blown", "high-limit-open", "cycling-open", "control-open", "lost-leg-2"])
def test_no_heat_is_cold_air(fault):
    bench = ran(fault)
    assert bench.trail[-1]["happened"] == ["the air stays cold"]
    assert bench.temperature("exhaust").value < 27.0


def test_low_heat_is_cooler_and_needs_its_bias_heater():
    """Catalogue: 'low heat as hot as high'."""
    low = replace(ON, low_heat=True)
    assert exhaust(minutes=60.0, state=low) < exhaust(minutes=60.0) - 8.0
    assert exhaust("bias-heater-open", minutes=60.0, state=low) == pytest.approx(exhaust(minutes=60.0), abs=1.0)


def test_a_thermostat_off_its_mark_is_cool_and_slow_or_too_hot():
    """Catalogue."""
    marks = (("cycling-off-mark=-25",), (), ("cycling-off-mark=25",))
    cool, sound, hot = (after(*faults, minutes=50.0) for faults in marks)
    assert cool.heat.water > sound.heat.water + 0.5
    assert hot.state.exhaust_celsius > MACHINE.cycling_opens + 5.0 > sound.state.exhaust_celsius


def test_a_welded_control_heats_on_the_no_heat_setting():
    """Catalogue."""
    off = State(running=True)
    assert exhaust("control-welded", state=off) > 50.0
    assert exhaust(state=off) < 27.0


@pytest.mark.parametrize(
    "fault",
    ["element-1-open", "element-2-drifted", "supply-208", "low-supply", "thin-cord", "blocked-vent", "burnt-joint"],
)
def test_what_dries_slowly_does(fault):
    """Catalogue: 'dries slowly', 'a little slowly', 'heat comes and goes'."""
    assert after(fault, minutes=30.0).heat.water > after(minutes=30.0).heat.water + 0.02


def test_a_limit_clicks_at_lesson_08s_house_and_not_where_the_air_is_strong():
    assert after("blocked-vent=0.8").opened(LIMIT_SWITCH) > 3
    assert after("element-1-open", minutes=60.0).opened(LIMIT_SWITCH) == 0


def test_the_heater_cools_after_the_stop():
    bench = ran()
    hot = bench.state
    bench.do("stop")
    bench.do("unplug")
    soon = bench.state
    for _ in range(30):
        bench.do("open_door")
        bench.do("cover_off") if not bench.cover_off else bench.do("cover_on")
    later = bench.state
    assert hot.element_celsius > soon.element_celsius + 200.0 > 300.0
    assert soon.limit_celsius > later.limit_celsius
    assert later.limit_celsius == pytest.approx(25.0, abs=3.0)


def test_a_limit_that_opened_closes_by_itself_when_the_box_has_cooled():
    bench = ran("blocked-vent=0.7")
    while LIMIT_SWITCH not in bench.state.tripped:
        bench.do("set_dial", mode="volts")  # a little time passes
    bench.do("stop")
    bench.do("unplug")
    bench.do("cover_off")
    assert LIMIT_SWITCH not in bench.state.tripped


def test_held_parts_stay_as_warm_as_they_are_held():
    bench = Bench()
    for act in ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off"):
        bench.do(act)
    bench.do("pull_wire", wire="wire H3")
    bench.do("warm_parts", celsius=76)
    for _ in range(5):
        assert bench.ohms("H3", "H4").shown == "OL"
    bench.do("cool_down")
    assert bench.ohms("H3", "H4").shown != "OL"


def test_a_trail_replays_to_the_same_heat():
    bench = ran("blocked-vent=0.7", runs=2)
    bench.temperature("exhaust")
    again = replay(machine_on(bench), bench.trail, ["blocked-vent=0.7"])
    assert again.state == bench.state
    assert again.trail == bench.trail


@pytest.mark.parametrize("name", fault_names())
def test_every_fault_can_be_let_run(name):
    fault = read_fault(name)
    machine = MACHINE if fits(fault, MACHINE) else replace(MACHINE, cord="three-wire")
    found = pass_minutes(machine, [fault], ON, cold_heat(machine, [fault]), 30.0)
    assert found.heat.water <= cold_heat(machine).water + 1e-6
    assert found.state.cutoff_blown is False


def test_the_other_phase_of_a_cycling_limit_is_known():
    now, other = asked_for(MACHINE, [read_fault("blocked-vent=0.7")], named_state("heating"))
    amps = sorted(abs(one.live.amps("wire L2")) for one in (now, other))
    assert amps[0] < 1.0
    assert amps[1] > 20.0
    same, twin = asked_for(MACHINE, [], named_state("heating"))
    assert same is twin


def test_only_what_heat_opens_is_named():
    found = after("blocked-vent=0.7", minutes=30.0)
    assert {move.switch for move in found.moves} <= {CYCLING, LIMIT_SWITCH, CUTOFF}
