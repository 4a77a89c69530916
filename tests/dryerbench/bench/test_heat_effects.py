"""Which causes click the limit and blow the cut-off over a load: what lessons 06, 08 and 10 say of it."""

import pytest

from dryerbench.bench.faults import read_fault
from dryerbench.bench.heat_effects import blows, has_a_part, over_a_load
from dryerbench.bench.machine import Machine
from dryerbench.topics.heat_switches.sheet import SUSPECTS
from legtoleg.keys.heat_switches import BLOWN

MACHINE = Machine()
AS_FAULT = {
    "crushed": "blocked-vent=0.7",
    "door": "door-switch-open",
    "grounded": "element-2-grounded=0.5",
    "limit_shut": "high-limit-stuck",
    "lint": "blocked-vent=0.6",
    "no_contact": "motor-heat-contact-open",
    "one_open": "element-1-open",
    "opens_low": "cycling-off-mark=-25",
    "supply_208": "supply-208",
    "welded": "cycling-welded",
}
"""What lesson 06, question 8, offers, as faults of the bench."""
OTHERS = ("high-limit-stuck", "blocked-vent=0.46", "blocked-vent=0.7", "cycling-welded", "element-1-grounded=0.5")


def faults(*texts):
    return tuple(read_fault(text) for text in texts)


def sets_beside(cause):
    """Return sets of up to two other faults, no fault twice."""
    others = [text for text in OTHERS if text.split("=")[0] != cause.split("=")[0]]
    pairs = [(a, b) for a in others for b in others if a < b and a.split("=")[0] != b.split("=")[0]]
    return [(), *((one,) for one in others), *pairs]


def test_question_8_offers_what_is_tried_here():
    assert set(AS_FAULT) == set(SUSPECTS)


@pytest.mark.parametrize("key", sorted(SUSPECTS))
def test_what_plays_a_part_when_a_cut_off_blows(key):
    """Lesson 06: these play a part, and what makes less heat does not."""
    cause = read_fault(AS_FAULT[key])
    found = any(has_a_part(MACHINE, cause, faults(*beside)) for beside in sets_beside(AS_FAULT[key]))
    assert found == (key in BLOWN)


@pytest.mark.parametrize("key", sorted(SUSPECTS))
def test_it_takes_more_than_one_fault(key):
    """Lesson 06: on a machine like this it takes more than one; lesson 10: the limit is one of two."""
    assert not blows(MACHINE, faults(AS_FAULT[key]))


@pytest.mark.parametrize("cause", ["blocked-vent=0.6", "element-2-grounded=0.5"])
def test_heat_that_piles_up_and_a_limit_that_sleeps(cause):
    """Lesson 10: too little air, or a grounded element while the drum stands, and a high limit that no longer opens."""
    assert blows(MACHINE, faults(cause, "high-limit-stuck"))


def test_with_the_limit_at_work_a_packed_vent_only_makes_it_click():
    for share in (0.5, 0.6, 0.7, 0.8):
        for more in ((), ("cycling-welded",)):
            done = over_a_load(MACHINE, faults(f"blocked-vent={share}", *more))
            assert done.limit_clicks
            assert not done.cutoff_blown


def test_a_welded_thermostat_makes_both_worse():
    """More clicks with a sound limit, and a blown cut-off where a working thermostat still saved it."""
    alone, welded = (over_a_load(MACHINE, faults("blocked-vent=0.4", *more)) for more in ((), ("cycling-welded",)))
    assert welded.limit > alone.limit
    assert has_a_part(MACHINE, read_fault("cycling-welded"), faults("high-limit-stuck", "blocked-vent=0.46"))


def test_a_sound_machine_cycles_and_does_not_click():
    done = over_a_load(MACHINE, ())
    assert done.cycling > 3
    assert not done.limit_clicks
    assert done.limit <= 1  # the door opened on a glowing heater: the still box gets hot once
