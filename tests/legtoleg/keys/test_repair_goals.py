"""Each goal of a repair by itself: what is read counts when, between which points and in which setting it has to."""

from __future__ import annotations

from typing import Any

import pytest

from dryerbench.bench.acts import BenchError
from dryerbench.bench.bench import Bench
from dryerbench.bench.states import State
from dryerbench.diagnosis.call_dealing import ELECTRICIAN, QUALIFIED, UTILITY
from legtoleg.keys import call_goals
from legtoleg.keys.call_goals import CAUSE_GOALS, HAND_OVER_GOALS, REPAIR_GOALS
from legtoleg.keys.repair_goals import (
    CLOSED_OHMS,
    SOUND_OHMS,
    WARM,
    after_work,
    bonded,
    closed_up,
    dead_inside,
    elements_read,
    exhaust_read,
    heater_off_case,
    parts_read,
    ran,
    repairs,
    searched,
    unneeded,
    wasted,
)

SAFE = ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off")
HEATER = tuple(f"wire T{n}" for n in range(4))


def bench(*faults: str, block: bool = True, pulled: tuple[str, ...] = ()) -> Bench:
    """Return a bench made dead and open, with wires pulled."""
    made = Bench(faults=faults)
    for act in SAFE:
        made.do(act)
    if block:
        made.do("test_dead", where="block")
        made.do("prove_meter")
    for wire in pulled:
        made.do("pull_wire", wire=wire)
    return made


def did(on: Bench, *acts: str | tuple[str, dict[str, Any]]) -> Bench:
    for act in acts:
        name, given = (act, {}) if isinstance(act, str) else act
        on.do(name, **given)
    return on


def part(name: str) -> tuple[str, dict[str, Any]]:
    return "replace_part", {"part": name}


RUN = ("cover_on", "plug_in", "ask_heat", "press_start", "let_run")


# --- dead inside ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("acts", "reached"),
    [
        ((), True),
        ((("pull_wire", {"wire": "wire T1"}),), True),
        (("cover_on", "cover_off", ("pull_wire", {"wire": "wire T1"})), False),
        (("cover_on", "plug_in", "unplug", *SAFE[1:], part("high limit")), False),
        (("cover_on", "cover_off", ("test_dead", {"where": "block"}), ("pull_wire", {"wire": "wire T1"})), True),
        (("cover_on", "cover_off", part("vent")), True),
        (("cover_on", "cover_off", part("cord")), True),
        (("cover_on", "cover_off", part("bond wire")), False),
    ],
)  # fmt: skip
def test_dead_is_tested_at_the_block_each_time_before_hands_go_in(acts: Any, reached: bool) -> None:
    assert dead_inside(did(bench(), *acts)) is reached


def test_no_hands_without_the_block_and_none_at_all_without_the_cover() -> None:
    assert not dead_inside(did(bench(block=False), ("pull_wire", {"wire": "wire T1"})))
    assert dead_inside(bench(block=False))
    assert not dead_inside(Bench())
    for act, given in (("warm_parts", {"celsius": 60}), ("replace_part", {"part": "high limit"})):
        assert not dead_inside(did(bench(block=False), (act, given)))


def test_a_test_at_the_block_that_finds_it_live_is_none() -> None:
    live = Bench(faults=["lost-leg-1"])
    for act in ("gear_on", "cover_off", "prove_meter", ("test_dead", {"where": "block"}), "unplug"):
        did(live, act)
    assert live.trail[3]["facts"]["found_live"]
    assert not dead_inside(did(live, ("pull_wire", {"wire": "wire T1"})))


# --- readings after the work ------------------------------------------------------------------------------------------


def test_after_the_work_is_after_the_last_part_that_counts() -> None:
    on = did(bench(), part("high limit"), "null_leads", part("vent"), "cover_on")
    assert [act["act"] for act in after_work(on)] == ["cover_on"]
    assert [act["act"] for act in after_work(on, "vent")] == ["null_leads", "replace_part", "cover_on"]
    assert next(act["act"] for act in after_work(on, "vent", "high limit")) == "test_dead"
    assert after_work(Bench()) == []
    assert len(repairs(on)) == 2


@pytest.mark.parametrize("point", ["T0", "T1", "T2", "T3"])
@pytest.mark.parametrize("mode", ["ohms", "insulation", "continuity"])
def test_any_terminal_to_the_case_clears_the_heater_by_a_number_and_no_beep(point: str, mode: str) -> None:
    on = bench(pulled=HEATER)
    assert not heater_off_case(on)
    getattr(on, mode)(point, "case")
    assert heater_off_case(on) is (mode != "continuity")


def test_a_heater_with_a_path_is_not_clear_by_any_other_reading() -> None:
    on = bench("element-1-grounded=0.4", pulled=HEATER)
    on.ohms("T0", "case")
    assert not heater_off_case(on)
    on = bench("leakage-to-case=500000", pulled=HEATER)
    on.ohms("T0", "case")
    assert on.trail[-1]["reading"]["value"] < SOUND_OHMS
    assert not heater_off_case(on)
    on = bench("leakage-to-case=1900000", pulled=HEATER)
    on.insulation("T0", "case")
    assert on.trail[-1]["reading"]["value"] > SOUND_OHMS
    assert heater_off_case(on)


@pytest.mark.parametrize(("replaced", "heater", "bond"), [
    ("vent", True, True), ("bond wire", True, False), ("cord", True, False), ("high limit", False, False),
    ("element 1", False, False), ("frame strap", True, False),
])  # fmt: skip
def test_what_is_read_before_a_part_holds_if_nobody_was_near(replaced: str, heater: bool, bond: bool) -> None:
    on = bench(pulled=HEATER)
    on.ohms("T0", "case")
    on.ohms("plug-G", "case")
    for n in (1, 2, 3):
        on.ohms(f"T{n}", "T0")
    assert (heater_off_case(on), bonded(on), elements_read(on)) == (True, True, True)
    try:
        did(on, part(replaced))
    except BenchError as error:  # a part that this machine does not have
        pytest.skip(str(error))
    assert (heater_off_case(on), bonded(on), elements_read(on)) == (heater, bond, heater)


def test_nothing_read_after_the_power_came_counts() -> None:
    on = did(bench(), part("high limit"), "cover_on", "plug_in", "unplug", "prove_meter", "test_dead", "prove_meter",
             "cover_off", *(("pull_wire", {"wire": wire}) for wire in HEATER))  # fmt: skip
    on.ohms("T0", "case")
    on.ohms("plug-G", "case")
    for n in (1, 2, 3):
        on.ohms(f"T{n}", "T0")
    assert not any((heater_off_case(on), bonded(on), elements_read(on)))


def test_a_bond_is_read_as_joined() -> None:
    on = bench("missing-bond")
    on.ohms("plug-G", "case")
    assert not bonded(on)
    on = bench()
    on.ohms("case", "plug-G")
    assert on.trail[-1]["reading"]["value"] <= CLOSED_OHMS
    assert bonded(on)
    on.trail[-1]["reading"]["value"] = CLOSED_OHMS
    assert bonded(on)
    on.trail[-1]["reading"]["value"] = CLOSED_OHMS + 0.01
    assert not bonded(on)


@pytest.mark.parametrize("left_out", [1, 2, 3])
def test_each_element_is_read_alone_and_as_a_number(left_out: int) -> None:
    on = bench(pulled=HEATER)
    for n in (1, 2, 3):
        if n != left_out:
            on.ohms(f"T{n}", "T0")
    assert not elements_read(on)
    on.ohms("T0", f"T{left_out}")
    assert elements_read(on)
    joined = bench()
    for n in (1, 2, 3):
        joined.ohms(f"T{n}", "T0")
    assert not elements_read(joined)
    broken = bench("element-2-open", pulled=HEATER)
    for n in (1, 2, 3):
        broken.ohms(f"T{n}", "T0")
    assert not elements_read(broken)


# --- the run ----------------------------------------------------------------------------------------------------------


def test_it_runs_closed_up_with_heat_and_the_exhaust_is_read_meanwhile() -> None:
    on = did(bench(), *RUN)
    assert (ran(on), exhaust_read(on)) == (True, False)
    assert on.temperature("exhaust").value > WARM
    assert exhaust_read(on)
    room = did(bench(), *RUN)
    room.temperature("room")
    assert not exhaust_read(room)
    cold = did(bench(), "cover_on", "plug_in", "press_start", "let_run")
    cold.temperature("exhaust")
    assert (ran(cold), exhaust_read(cold)) == (False, False)
    again = did(bench(), *RUN)
    again.temperature("exhaust")
    again.trail[-1]["reading"]["value"] = WARM
    assert exhaust_read(again)
    again.trail[-1]["reading"]["value"] = WARM - 0.1
    assert not exhaust_read(again)


@pytest.mark.parametrize("ends", ["stop", "unplug", "open_breaker", "open_door"])
def test_what_ends_the_run_ends_the_reading(ends: str) -> None:
    on = did(bench(), *RUN, ends)
    on.temperature("exhaust")
    assert (ran(on), exhaust_read(on)) == (True, False)


def test_an_open_machine_proves_nothing_and_neither_does_a_run_before_the_work() -> None:
    on = did(bench(), "gear_on", "plug_in", "ask_heat", "press_start", "let_run")
    on.temperature("exhaust")
    assert not ran(on)
    before = did(bench(), *RUN)
    before.temperature("exhaust")
    did(before, "stop", "unplug", part("vent"))
    assert not ran(before)
    assert not exhaust_read(before)


def test_a_machine_that_nobody_opened_may_run_too() -> None:
    on = did(Bench(), part("vent"), "ask_heat", "press_start", "let_run")
    on.temperature("exhaust")
    assert exhaust_read(on)


# --- parts ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "pair", "other"),
    [
        ("element 2", ("T2", "T0"), ("T1", "T0")),
        ("element 2", ("case", "T2"), ("T1", "case")),
        ("thermal cut-off", ("H5", "H6"), ("H7", "H8")),
        ("bond wire", ("plug-G", "case"), ("T0", "case")),
    ],
)
def test_a_part_is_read_between_its_own_points_before_it_is_replaced(
    name: str, pair: tuple[str, str], other: tuple[str, str]
) -> None:
    for points, read in ((pair, True), (other, False)):
        on = bench(pulled=HEATER)
        on.ohms(*points)
        assert parts_read(did(on, part(name))) is read
    late = did(bench(pulled=HEATER), part(name))
    late.ohms(*pair)
    assert not parts_read(late)
    assert parts_read(bench())


def test_the_vent_is_looked_into_before_it_is_swept() -> None:
    assert parts_read(did(bench("blocked-vent=0.5"), "look_vent", part("vent")))
    assert not parts_read(did(bench("blocked-vent=0.5"), part("vent"), "look_vent"))
    on = bench("blocked-vent=0.5")
    on.ohms("H5", "H6")
    assert not parts_read(did(on, part("vent")))


def test_sound_parts_are_counted_with_what_they_cost() -> None:
    on = did(bench("element-1-open"), part("element 1"))
    assert unneeded(on) == []
    assert unneeded(did(on, part("high limit"), part("thermal cut-off"))) == ["high limit", "thermal cut-off"]
    assert wasted(on) == "Sound parts replaced: 2. The customer would pay $32 for them."
    assert unneeded(bench("element-1-open")) == []


def test_closed_up_and_searched() -> None:
    assert closed_up(Bench())
    assert not closed_up(bench())
    assert closed_up(did(bench(), "cover_on"))
    assert not closed_up(did(bench(pulled=("wire T1",)), "cover_on"))
    assert not searched(bench())
    assert searched(did(Bench(), "unplug", "look_vent"))
    on = bench()
    on.ohms("H1", "H8")
    assert not searched(on)
    on.ohms("H6", "H5")
    assert searched(on)


# --- the three calls --------------------------------------------------------------------------------------------------


def goal(goals: Any, slip: str) -> Any:
    return next(one for one in goals if one.slip == slip)


def looked_at(
    *, thermostat: float = 73.0, limit: float = 127.0, alone: bool = True, case: bool = True, vent: bool = True
) -> Bench:
    on = did(bench("high-limit-stuck"), *(["look_vent"] if vent else []))
    for wire in ("wire H3", "wire H7", *HEATER):
        did(on, ("pull_wire", {"wire": wire}))
    if case:
        on.ohms("T0", "case")
    for celsius, pair in ((thermostat, ("H3", "H4")), (limit, ("H7", "H8"))):
        if celsius:
            did(on, ("warm_parts", {"celsius": celsius}))
            on.ohms(*pair)
            on.trail[-1]["facts"]["other_path"] = not alone
    return on


@pytest.mark.parametrize(
    ("how", "reached"),
    [
        ({}, True),
        ({"thermostat": 72.5}, False),
        ({"limit": 126.5}, False),
        ({"thermostat": 0.0}, False),
        ({"limit": 0.0}, False),
        ({"alone": False}, False),
        ({"case": False}, False),
        ({"vent": False}, False),
    ],
)
def test_the_cause_is_looked_for_hot_alone_at_the_case_and_in_the_vent(how: dict[str, Any], reached: bool) -> None:
    cause = goal(CAUSE_GOALS, "cause_not_looked_for")
    on = looked_at(**how)
    assert cause.reached(on) is reached
    assert cause.reached(did(on, part("high limit"))) is reached


def test_a_cause_looked_for_after_the_first_part_was_not_looked_for() -> None:
    on = did(bench("high-limit-stuck"), part("thermal cut-off"))
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


def test_the_temperatures_at_which_they_must_be_open() -> None:
    assert (call_goals.THERMOSTAT_HOT, call_goals.LIMIT_HOT) == (73.0, 127.0)
    assert State().exhaust_celsius < call_goals.THERMOSTAT_HOT
