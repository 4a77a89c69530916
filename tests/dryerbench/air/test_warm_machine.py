"""A machine's heat from any state on: closed forms, SciPy, balances, and what any machine does."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from dryerbench.air.cycle import Cycle
from dryerbench.air.dryer_body import DryerBody, Room, household_load
from dryerbench.air.drying import BOX, CLOTHES, ELEMENT, LIMIT, STATE_SIZE, THERMOSTAT, TO_ROOM, WATER, DryingModel
from dryerbench.air.ducts import CFM
from dryerbench.air.moist_air import dry_air_density
from dryerbench.air.thermostats import HeatSwitch, usual_switch
from dryerbench.air.warm_machine import OVERLOAD, HeatParts, MotorHeat, Power, at_rest, cold, let_pass

ROOM = Room(25.0)
NOTHING = frozenset()
LIMIT_SWITCH = ("limit", (usual_switch("high_limit"), LIMIT))
FEW = settings(max_examples=25, deadline=None)


def parts(cfm=169.0, *switches, **more):
    return HeatParts(cfm * CFM * dry_air_density(50.0, 0.02), dict(switches), room=ROOM, **more)


def heating(watts, lit=1.0):
    return lambda open_now: Power(0.0 if open_now else watts, lit, running=True, motor_watts=86.0)


def ran(machine, watts, minutes, lit=1.0):
    return let_pass(cold(machine), NOTHING, machine, heating(watts, lit), 60.0 * minutes)


@pytest.mark.parametrize("cfm", [80.0, 120.0, 169.0])
@pytest.mark.parametrize("watts", [2000.0, 4270.0, 6400.0])
def test_the_air_behind_the_heater_rises_as_the_shops_rule_says(cfm, watts):
    """3.412 W/(1.08 cfm) in °F (check 21), once it is steady: to 8 %.

    The rule takes cfm of room air, the bench cfm of warm exhaust; the motor adds 125 W before the heater, and the box
    gives some to the room.
    """
    end = ran(parts(cfm), watts, 12.0).heat
    room_cfm = cfm * dry_air_density(50.0, 0.02) / dry_air_density(25.0, ROOM.humidity_ratio)
    rule = 3.412 * (watts + 125.0) / (1.08 * room_cfm) / 1.8
    assert end.places[LIMIT] - ROOM.celsius == pytest.approx(rule, rel=0.08)


def test_the_box_loses_what_the_rule_does_not_know():
    """Without losses, motor and wall the air alone: the rule to 2 %, which is the vapor in the air."""
    bare = DryerBody(motor_watts=1e-6, box_to_room=1e-9, limit_sees_wall=1e-9, drum_to_inlet=1e-9)
    machine = replace(parts(150.0), body=bare)
    end = ran(machine, 5000.0, 20.0).heat
    room_cfm = 150.0 * dry_air_density(50.0, 0.02) / dry_air_density(25.0, ROOM.humidity_ratio)
    assert end.places[LIMIT] - 25.0 == pytest.approx(3.412 * 5000.0 / (1.08 * room_cfm) / 1.8, rel=0.02)


def test_a_load_dries_as_in_the_whole_cycle():
    load = replace(household_load(), celsius=25.0)
    cycle = Cycle(room=ROOM, load=load, minutes=60.0, thermostat=None)
    machine = HeatParts(cycle.dry_air_flow, {}, room=ROOM)
    heat = cold(machine)
    for minute in range(60):
        heat = let_pass(heat, NOTHING, machine, heating(cycle.heater.closed_watts), 60.0).heat
        if minute % 10 == 9:
            record = cycle.run()
            assert heat.water / machine.load.dry_kg == pytest.approx(float(record.moisture(minute + 1.0)[0]), abs=1e-3)
            assert heat.places[THERMOSTAT] == pytest.approx(
                float(record.celsius("thermostat", minute + 1.0)[0]), abs=0.3
            )


@pytest.mark.parametrize("running", [True, False])
def test_agrees_with_solve_ivp_from_any_state(running):
    machine = parts()
    state = np.full(STATE_SIZE, 25.0)
    state[[ELEMENT, BOX, CLOTHES, WATER]] = 580.0, 140.0, 40.0, 1.2
    start = replace(cold(machine), places=tuple(state.tolist()))
    flow = machine.flow if running else machine.body.draft_flow
    rates = DryingModel(machine.body, machine.load, ROOM, flow, 1.0, running).rates(0.0)
    exact = solve_ivp(lambda _, y: rates(y.tolist()), (0.0, 240.0), state, rtol=1e-9, atol=1e-9).y[:, -1]
    end = let_pass(start, NOTHING, machine, lambda _: Power(running=running), 240.0).heat
    # Each of some twenty steps may err by 0.05 K.
    assert end.places[: TO_ROOM - 1] == pytest.approx(exact[: TO_ROOM - 1].tolist(), abs=0.15)


def test_switch_moves_are_solve_ivps():
    """A limit that cycles on 70 cfm: each of its moves in ten minutes, to 0.3 s."""
    machine = parts(70.0, LIMIT_SWITCH)
    part = LIMIT_SWITCH[1][0]
    model = DryingModel(machine.body, machine.load, ROOM, machine.flow)
    time, state, closed, moves = 0.0, np.array(cold(machine).places), True, []
    while time < 600.0:
        level, up = (part.opens, 1) if closed else (part.closes, -1)
        event = lambda _, y, level=level: y[LIMIT] - level
        event.terminal, event.direction = True, up
        rates = model.rates(6000.0 * closed)
        span, slope = (time, 600.0), lambda _, y, f=rates: f(y.tolist())
        found = solve_ivp(slope, span, state, events=[event], rtol=1e-8, atol=1e-8)
        time, state = found.t[-1], found.y[:, -1]
        if len(found.t_events[0]):
            closed = not closed
            moves.append(time)
    got = ran(machine, 6000.0, 10.0)
    assert len(moves) > 8
    assert [move.seconds for move in got.moves] == pytest.approx(moves, abs=0.3)
    assert [move.closed for move in got.moves] == [bool(n % 2) for n in range(len(moves))]


@given(st.floats(20.0, 200.0), st.floats(500.0, 7000.0), st.floats(1.0, 12.0))
@FEW
def test_energy_and_water_balance(cfm, watts, minutes):
    """What heater and motor put in is stored, carried off or lost; counted on the same equations by small steps."""
    machine = parts(cfm)
    end = ran(machine, watts, minutes)
    assert end.joules == pytest.approx(watts * 60.0 * minutes)
    model = DryingModel(machine.body, machine.load, ROOM, machine.flow)
    rates = model.rates(watts)
    found = solve_ivp(
        lambda _, y: rates(y.tolist()), (0.0, 60.0 * minutes), np.array(cold(machine).places), rtol=1e-7, atol=1e-7
    )
    out = found.y[-2:, -1].sum()
    stored = model.stored(np.array(end.heat.places)) - model.stored(np.array(cold(machine).places))
    put_in = (watts + machine.body.motor_watts) * 60.0 * minutes
    assert stored + out == pytest.approx(put_in, rel=2e-3)


@given(st.floats(30.0, 180.0), st.floats(5.0, 40.0), st.floats(500.0, 7000.0))
@FEW
def test_more_air_makes_a_cooler_box(cfm, more, watts):
    before, after = (ran(parts(air), watts, 10.0).heat.places[LIMIT] for air in (cfm, cfm + more))
    assert after < before


@given(st.floats(500.0, 6500.0), st.floats(100.0, 1000.0), st.floats(40.0, 180.0))
@FEW
def test_more_watts_make_it_hotter_and_drier(watts, more, cfm):
    before, after = (ran(parts(cfm), power, 10.0).heat for power in (watts, watts + more))
    for place in (ELEMENT, BOX, LIMIT, CLOTHES, THERMOSTAT):
        assert after.places[place] > before.places[place]
    assert after.water < before.water


@given(st.lists(st.floats(0.2, 4.0), min_size=2, max_size=5))
@FEW
def test_minutes_add_up(spans):
    machine = parts(90.0, LIMIT_SWITCH)
    whole = ran(machine, 6000.0, sum(spans))
    heat, left, joules = cold(machine), NOTHING, 0.0
    for minutes in spans:
        passed = let_pass(heat, left, machine, heating(6000.0), 60.0 * minutes)
        heat, left, joules = passed.heat, passed.open, joules + passed.joules
    assert joules == pytest.approx(whole.joules, rel=0.02, abs=6000.0)
    assert heat.water == pytest.approx(whole.heat.water, abs=2e-3)


def test_what_is_kept_is_rounded_and_at_rest_is_the_rooms():
    machine = parts()
    end = ran(machine, 6000.0, 10.0).heat
    for place in (ELEMENT, LIMIT, THERMOSTAT):
        assert end.places[place] == round(end.places[place], 4)
    heat = end
    for _ in range(60):
        heat = let_pass(heat, NOTHING, machine, lambda _: Power(), 3600.0).heat
    assert at_rest(heat, machine)
    assert heat.places[LIMIT] == heat.motor == ROOM.celsius
    assert let_pass(heat, NOTHING, machine, lambda _: Power(), 3600.0).heat == heat


def test_a_stalled_motor_trips_its_overload_and_comes_back_when_cool():
    """Times by the closed form of one lump: level + (start - level) exp(-t loss/capacity)."""
    overload = HeatSwitch("overload", 130.0, 70.0)
    machine = replace(parts(), overload=overload, motor=MotorHeat(600.0, 1.6))
    stalled = 1900.0
    flows = lambda open_now: Power(motor_watts=0.0 if OVERLOAD in open_now else stalled)
    passed = let_pass(cold(machine), NOTHING, machine, flows, 600.0)
    level = 25.0 + stalled / 1.6
    trips = 600.0 / 1.6 * math.log((25.0 - level) / (130.0 - level))
    back = trips + 600.0 / 1.6 * math.log((130.0 - 25.0) / (70.0 - 25.0))
    assert [(move.switch, move.closed) for move in passed.moves[:2]] == [(OVERLOAD, False), (OVERLOAD, True)]
    assert [move.seconds for move in passed.moves[:2]] == pytest.approx([trips, back], rel=1e-6)
    turning = Power(running=True, motor_watts=86.0)
    assert let_pass(cold(machine), NOTHING, machine, lambda _: turning, 7200.0).moves == ()


def test_a_one_shot_stays_open():
    machine = parts(20.0, ("cut-off", (usual_switch("thermal_cutoff"), LIMIT)))
    passed = ran(machine, 6000.0, 60.0)
    assert [(move.switch, move.closed) for move in passed.moves] == [("cut-off", False)]
    assert passed.open == {"cut-off"}


def test_elements_without_current_hold_no_heat_of_the_others():
    """Two of three elements lit, then the power goes: the heat they held is all there is."""
    machine = parts()
    lit = ran(machine, 4000.0, 5.0, lit=2 / 3).heat
    assert lit.lit == 2 / 3
    off = let_pass(lit, NOTHING, machine, lambda _: Power(), 60.0).heat
    assert off.lit == 2 / 3
    model = DryingModel(machine.body, machine.load, ROOM, machine.body.draft_flow, 2 / 3, running=False)
    rates = model.rates(0.0)
    exact = solve_ivp(lambda _, y: rates(y.tolist()), (0.0, 60.0), np.array(lit.places), rtol=1e-9, atol=1e-9).y[:, -1]
    assert off.places[BOX] == pytest.approx(exact[BOX], abs=0.15)
    third = let_pass(lit, NOTHING, machine, lambda _: Power(1.0, 1.0, running=True), 1e-6).heat
    assert third.places[ELEMENT] == pytest.approx((2 * lit.places[ELEMENT] + lit.places[BOX]) / 3, abs=0.01)
