"""Any arrangement's air and switches: by its own names and marks, and what the closed form says of them."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dryerbench.air.dryer_body import Room, household_load
from dryerbench.air.drying import LIMIT, THERMOSTAT
from dryerbench.air.heat_ratings import HeatRatings, dry_air
from dryerbench.air.thermostats import HeatSwitch
from dryerbench.air.warm_machine import Power, cold, let_pass
from dryerbench.core.errors import OutOfRangeError
from dryerbench.core.temperatures import celsius

ROOM = Room(celsius(72.0))


def ratings(cfm=150.0, cycling=(146, 131), limit=(238, 203), cutoff=322, fuse=207):
    """Return the ratings of a machine with one coil, a fuse for its motor and a cut-off; marks in °F."""
    return HeatRatings(
        cfm,
        (HeatSwitch("Cyc", *map(celsius, cycling)), HeatSwitch("Fuse", celsius(fuse), None)),
        (HeatSwitch("Lim", *map(celsius, limit)), HeatSwitch("Cut", celsius(cutoff), None)),
    )


def over(parts, watts, minutes=90.0):
    heats = lambda opened: Power(0.0 if opened - {"Fuse"} else watts, 1.0, "Fuse" not in opened)
    return let_pass(cold(parts), frozenset(), parts, heats, 60.0 * minutes)


def opened(passed, name):
    return sum(move.switch == name and not move.closed for move in passed.moves)


def test_each_switch_feels_its_own_place():
    parts = ratings().parts(0.25, ["Cyc"])
    assert {name: place for name, (_, place) in parts.switches.items()} == {
        "Fuse": THERMOSTAT,
        "Lim": LIMIT,
        "Cut": LIMIT,
    }
    assert parts.flow == pytest.approx(0.75 * dry_air(150.0))
    assert parts.load == household_load()


@given(st.floats(95.0, 170.0), st.floats(28.0, 36.0), st.booleans())
@settings(max_examples=15, deadline=None)
def test_a_clean_vent_never_clicks_a_limit_that_stands_above_the_shops_rule(cfm, watts_a_cfm, welded):
    """With 70 + 3.412 W/(1.08 cfm) below the limit's reset, as each sheet has it: a load of ninety minutes."""
    watts = watts_a_cfm * cfm
    after_coil = 70.0 + 3.412 * watts / (1.08 * cfm)
    machine = ratings(cfm, limit=(after_coil + 55.0, after_coil + 20.0), cutoff=after_coil + 140.0)
    passed = over(machine.parts(0.0, ["Cyc"] if welded else [], room=ROOM), watts)
    assert opened(passed, "Lim") == 0
    assert opened(passed, "Cut") == 0
    assert (opened(passed, "Cyc") > 0) != welded


def test_less_air_clicks_the_limit_and_without_it_blows_the_cut_off():
    watts = 5434.0
    assert opened(over(ratings().parts(0.5, room=ROOM), watts), "Lim") > 10
    assert opened(over(ratings().parts(0.6, room=ROOM), watts), "Cut") == 0
    assert opened(over(ratings().parts(0.6, ["Lim"], room=ROOM), watts), "Cut") == 1


def test_a_fuse_in_the_exhaust_stops_the_motor_for_good():
    passed = over(ratings(fuse=160).parts(0.0, ["Cyc"], room=ROOM), 5434.0)
    assert opened(passed, "Fuse") == 1
    assert "Fuse" in passed.open


def test_errors():
    with pytest.raises(OutOfRangeError, match="one name"):
        HeatRatings(150.0, (HeatSwitch("a", 60.0, 50.0),), (HeatSwitch("a", 120.0, None),))
    with pytest.raises(OutOfRangeError, match="some air"):
        ratings(0.0)
    with pytest.raises(OutOfRangeError, match="from 0 to 1"):
        ratings().parts(1.2)
