import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dryerbench.air.dryer_body import DryerBody, Load, Room
from dryerbench.air.drying import (
    CLOTHES,
    ELEMENT,
    STATE_SIZE,
    TO_EXHAUST,
    TO_ROOM,
    WATER,
    DryingModel,
)
from dryerbench.air.moist_air import CP_LIQUID, MoistAir
from dryerbench.air.stepping import Stepper, Trace

STATES = st.tuples(
    st.floats(22.0, 900.0),
    st.floats(22.0, 200.0),
    st.floats(22.0, 150.0),
    st.floats(15.0, 90.0),
    st.floats(0.01, 4.0),
    st.floats(22.0, 90.0),
    st.floats(22.0, 90.0),
    st.floats(22.0, 90.0),
    st.just(0.0),
    st.just(0.0),
)


def model(flow=0.085, **options):
    return DryingModel(DryerBody(), Load(), Room(), flow, **options)


@given(
    STATES,
    st.floats(0.0, 8000.0),
    st.floats(0.002, 0.12),
    st.booleans(),
    st.sampled_from([1 / 3, 2 / 3, 1.0]),
)
@settings(deadline=None)
def test_every_watt_is_somewhere(state, watts, flow, running, lit):
    """At any state: heater and motor go into storage, exhaust and room, to rounding."""
    now = model(flow, running=running, lit=lit)
    rates = now.rates(watts)(state)
    body, load = now.body, now.load
    stored = (
        body.element_capacity * lit * rates[ELEMENT]
        + body.box_capacity * rates[1]
        + body.drum_capacity * rates[5]
        + body.housing_capacity * rates[6]
        + (load.dry_kg * load.specific_heat + CP_LIQUID * state[WATER]) * rates[CLOTHES]
        + CP_LIQUID * state[CLOTHES] * rates[WATER]
    )
    out = rates[TO_EXHAUST] + rates[TO_ROOM]
    assert stored + out == pytest.approx(watts + now.motor_watts, abs=1e-6 * (1 + abs(out) + abs(stored)))


@given(STATES, st.floats(0.01, 0.12))
@settings(deadline=None)
def test_air_over_time_is_air_in_the_loop(state, flow):
    now = model(flow)
    array = now.air_over_time(np.array([state, state]))
    follow = now._follow_air()
    assert [float(value[1]) for value in array] == pytest.approx(
        list(follow(state, math.exp, math.log, max, min)), rel=1e-12
    )


def test_a_cold_dry_machine_in_its_own_room_is_at_rest():
    still = model(running=False)
    state = [22.0] * STATE_SIZE
    state[WATER] = 1e-12
    assert still.rates(0.0)(state)[ELEMENT] == pytest.approx(0.0, abs=1e-12)


def test_wet_clothes_in_cold_room_air_go_to_the_wet_bulb():
    """Without heat the load cools until air and water balance: psychrolib's wet bulb, to half a degree."""
    body = DryerBody(motor_watts=1e-9)
    now = DryingModel(body, Load(moisture=3.0), Room(), 0.085)
    state = np.array(now.start())
    _, end, _ = Stepper(np.full(STATE_SIZE, 1e-2), 30.0).run(now.rates(0.0), 0.0, state, 1800.0, (), Trace())
    assert end[CLOTHES] == pytest.approx(MoistAir(22.0, 0.5).wet_bulb, abs=0.5)


@given(st.floats(20.0, 80.0), st.floats(0.05, 1.0), st.floats(0.001, 0.05))
@settings(deadline=None)
def test_a_wetter_load_gives_off_more(celsius, moisture, more):
    now = model()
    rates = now.rates(6400.0)
    drying = []
    for amount in (moisture, moisture + more):
        state = now.start()
        state[CLOTHES], state[WATER] = celsius, amount * now.load.dry_kg
        drying.append(-rates(state)[WATER])
    assert drying[1] > drying[0]


def test_a_load_that_boils_stays_finite():
    now = model()
    state = now.start()
    state[CLOTHES] = 105.0
    assert all(np.isfinite(now.rates(6400.0)(state)))


def test_cotton_keeps_its_regain():
    """In room air of 65 % a cotton load neither dries nor wets near 8 % (a usual figure, from memory)."""
    room = Room(20.0, 0.65)
    now = DryingModel(DryerBody(motor_watts=1e-9), Load(), room, 0.085)
    for moisture, sign in ((0.09, 1), (0.07, -1)):
        state = [20.0] * STATE_SIZE
        state[WATER] = moisture * now.load.dry_kg
        assert -now.rates(0.0)(state)[WATER] * sign > 0
