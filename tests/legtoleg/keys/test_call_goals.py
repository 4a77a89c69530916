"""The goals of the three calls: the cause looked for, and the call that is not yours."""

from __future__ import annotations

from typing import Any

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.states import State
from dryerbench.core.temperatures import celsius
from dryerbench.diagnosis.call_dealing import ELECTRICIAN, QUALIFIED, UTILITY
from dryerbench.family.machine import _RATING_SPREAD
from dryerbench.family.shelf import arrangement, machine_names
from legtoleg.keys import call_goals
from legtoleg.keys.call_goals import CAUSE_GOALS, HAND_OVER_GOALS, REPAIR_GOALS

from .conftest import HEATER, did, open_bench_of, part


def goal(goals: Any, slip: str) -> Any:
    return next(one for one in goals if one.slip == slip)


def looked_at(
    *,
    thermostat: float = 73.0,
    limit: float = 126.0,
    alone: bool = True,
    case: bool = True,
    vent: bool = True,
    contact: bool = True,
) -> Bench:
    on = did(open_bench_of("high-limit-stuck"), *(["look_vent"] if vent else []))
    for wire in ("wire H3", "wire H7", *HEATER):
        did(on, ("pull_wire", {"wire": wire}))
    if case:
        on.ohms("T0", "case")
    if contact:
        on.ohms("M1", "M2")
    for warmth, pair in ((thermostat, ("H3", "H4")), (limit, ("H7", "H8"))):
        if warmth:
            did(on, ("warm_parts", {"celsius": warmth}))
            on.ohms(*pair)
            on.trail[-1]["facts"]["other_path"] = not alone
    return on


@pytest.mark.parametrize(
    ("how", "reached"),
    [
        ({}, True),
        ({"thermostat": 72.5}, False),
        ({"limit": 125.0}, False),
        ({"thermostat": 0.0}, False),
        ({"limit": 0.0}, False),
        ({"alone": False}, False),
        ({"case": False}, False),
        ({"vent": False}, False),
        ({"contact": False}, False),
    ],
)
def test_the_cause_is_looked_for_hot_alone_at_the_case_and_in_the_vent(how: dict[str, Any], reached: bool) -> None:
    cause = goal(CAUSE_GOALS, "cause_not_looked_for")
    on = looked_at(**how)
    assert cause.reached(on) is reached
    assert cause.reached(did(on, part("high limit"))) is reached


def test_a_cause_looked_for_after_the_first_part_was_not_looked_for() -> None:
    on = did(open_bench_of("high-limit-stuck"), part("thermal cut-off"))
    late = looked_at()
    on.trail.extend(late.trail)
    assert not goal(CAUSE_GOALS, "cause_not_looked_for").reached(on)


def handed(fault: str, to: str, *acts: str) -> Bench:
    return did(Bench(faults=[fault]), "unplug", *acts, ("stop_and_hand_over", {"to": to}))


LIGHTS, LEG = "open-service-neutral", "lost-leg-1"


@pytest.mark.parametrize(
    ("fault", "to", "right"),
    [
        (LIGHTS, UTILITY, True),
        (LIGHTS, ELECTRICIAN, True),
        (LIGHTS, QUALIFIED, False),
        (LEG, ELECTRICIAN, True),
        (LEG, UTILITY, False),
        (LEG, QUALIFIED, True),
        ("motor-heat-contact-open", QUALIFIED, True),
        ("motor-heat-contact-open", ELECTRICIAN, False),
    ],
)
def test_it_goes_into_the_right_hands(fault: str, to: str, right: bool) -> None:
    assert goal(HAND_OVER_GOALS, "handed_to_the_wrong").reached(handed(fault, to)) is right


def test_the_last_hand_over_counts_and_none_is_none() -> None:
    on = handed(LEG, UTILITY)
    did(on, ("stop_and_hand_over", {"to": ELECTRICIAN}))
    assert goal(HAND_OVER_GOALS, "handed_to_the_wrong").reached(on)
    assert goal(HAND_OVER_GOALS, "not_handed_over").reached(on)
    assert not goal(HAND_OVER_GOALS, "not_handed_over").reached(did(Bench(), "unplug"))


def test_what_voids_and_what_shows() -> None:
    assert {one.slip for one in HAND_OVER_GOALS if one.voids} == {"repaired_not_yours", "not_handed_over"}
    assert {one.slip for one in REPAIR_GOALS if one.voids} == {"parts_cannon"}
    assert {one.slip for one in CAUSE_GOALS} == {"cause_not_looked_for", *(one.slip for one in REPAIR_GOALS)}
    untouched = Bench(faults=[LEG])
    assert [one.slip for one in (*HAND_OVER_GOALS, *CAUSE_GOALS) if one.earned(untouched)] == []
    emergency = handed(LIGHTS, UTILITY)
    assert [one.slip for one in HAND_OVER_GOALS if not one.earned(emergency)] == []
    unread = handed(LEG, ELECTRICIAN)
    assert [one.slip for one in HAND_OVER_GOALS if one.earned(unread)] == ["not_handed_over", "left_in_use"]


def test_a_machine_that_is_handed_over_stays_out_of_use() -> None:
    left = goal(HAND_OVER_GOALS, "left_in_use")
    assert left.reached(handed(LEG, ELECTRICIAN))
    assert not left.reached(did(handed(LEG, ELECTRICIAN), "plug_in"))
    locked = did(Bench(faults=[LEG]), "open_breaker", ("stop_and_hand_over", {"to": ELECTRICIAN}))
    assert not left.reached(locked)
    assert left.reached(did(locked, "lock"))


def test_any_sound_thermostat_or_limit_is_open_at_the_temperatures_that_are_asked_for() -> None:
    spreads = [_RATING_SPREAD[kind] for kind in ("cycling thermostat", "high limit")]
    assert max(spreads) <= call_goals._TOLERANCE
    for name in machine_names():
        parts = arrangement(name).of_kind("cycling thermostat", "high limit")
        assert all(celsius(part.numbers["opens"] + call_goals._TOLERANCE) > State().exhaust_celsius for part in parts)
