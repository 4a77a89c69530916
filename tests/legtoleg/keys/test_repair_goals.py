"""Each goal of a repair by itself: what is read counts when, between which points and in which setting it has to."""

from __future__ import annotations

from typing import Any

import pytest

from dryerbench.bench.acts import BenchError
from dryerbench.bench.bench import Bench
from dryerbench.bench.work_done import (
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
    ran,
    repairs,
)
from legtoleg.keys.repair_goals import parts_read, searched, unneeded, wasted

from .conftest import DEAD, HEATER, did, open_bench_of, part

RUN = ("cover_on", "plug_in", "ask_heat", "press_start", "let_run")


# --- dead inside ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("acts", "reached"),
    [
        ((), True),
        ((("pull_wire", {"wire": "wire T1"}),), True),
        (("cover_on", "cover_off", ("pull_wire", {"wire": "wire T1"})), False),
        (("cover_on", "plug_in", "unplug", *DEAD[1:-3], part("high limit")), False),
        (("cover_on", "cover_off", ("test_dead", {"where": "block"}), ("pull_wire", {"wire": "wire T1"})), True),
        (("cover_on", "cover_off", part("vent")), True),
        (("cover_on", "cover_off", part("cord")), True),
        (("cover_on", "cover_off", part("ground wire")), False),
    ],
)  # fmt: skip
def test_dead_is_tested_at_the_block_each_time_before_hands_go_in(acts: Any, reached: bool) -> None:
    assert dead_inside(did(open_bench_of(), *acts)) is reached


def test_no_hands_without_the_block_and_none_at_all_without_the_cover() -> None:
    assert not dead_inside(did(open_bench_of(block=False), ("pull_wire", {"wire": "wire T1"})))
    assert dead_inside(open_bench_of(block=False))
    assert not dead_inside(Bench())
    for act, given in (("warm_parts", {"celsius": 60}), ("replace_part", {"part": "high limit"})):
        assert not dead_inside(did(open_bench_of(block=False), (act, given)))


def test_a_test_at_the_block_that_finds_it_live_is_none() -> None:
    live = Bench(faults=["lost-leg-1"])
    for act in ("gear_on", "cover_off", "prove_meter", ("test_dead", {"where": "block"}), "unplug"):
        did(live, act)
    assert live.trail[3]["facts"]["found_live"]
    assert not dead_inside(did(live, ("pull_wire", {"wire": "wire T1"})))


# --- readings after the work ------------------------------------------------------------------------------------------


def test_after_the_work_is_after_the_last_part_that_counts() -> None:
    on = did(open_bench_of(), part("high limit"), "null_leads", part("vent"), "cover_on")
    assert [act["act"] for act in after_work(on)] == ["cover_on"]
    assert [act["act"] for act in after_work(on, "vent")] == ["null_leads", "replace_part", "cover_on"]
    assert next(act["act"] for act in after_work(on, "vent", "high limit")) == "prove_meter"
    assert after_work(Bench()) == []
    assert len(repairs(on)) == 2


@pytest.mark.parametrize("point", ["T0", "T1", "T2", "T3"])
@pytest.mark.parametrize("mode", ["ohms", "insulation", "continuity"])
def test_any_terminal_to_the_case_clears_the_heater_by_a_number_and_no_beep(point: str, mode: str) -> None:
    on = open_bench_of(pulled=HEATER)
    assert not heater_off_case(on)
    getattr(on, mode)(point, "case")
    assert heater_off_case(on) is (mode != "continuity")


def test_a_heater_with_a_path_is_not_clear_by_any_other_reading() -> None:
    on = open_bench_of("element-1-grounded=0.4", pulled=HEATER)
    on.ohms("T0", "case")
    assert not heater_off_case(on)
    on = open_bench_of("leakage-to-case=500000", pulled=HEATER)
    on.ohms("T0", "case")
    assert on.trail[-1]["reading"]["value"] < SOUND_OHMS
    assert not heater_off_case(on)
    on = open_bench_of("leakage-to-case=1900000", pulled=HEATER)
    on.insulation("T0", "case")
    assert on.trail[-1]["reading"]["value"] > SOUND_OHMS
    assert heater_off_case(on)


@pytest.mark.parametrize(("replaced", "heater", "bond"), [
    ("vent", True, True), ("ground wire", True, False), ("cord", True, False), ("high limit", False, False),
    ("element 1", False, False), ("frame strap", True, False),
])  # fmt: skip
def test_what_is_read_before_a_part_holds_if_nobody_was_near(replaced: str, heater: bool, bond: bool) -> None:
    on = open_bench_of(pulled=HEATER)
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
    on = did(open_bench_of(), part("high limit"), "cover_on", "plug_in", *DEAD)
    did(on, *(("pull_wire", {"wire": wire}) for wire in HEATER))
    on.ohms("T0", "case")
    on.ohms("plug-G", "case")
    for n in (1, 2, 3):
        on.ohms(f"T{n}", "T0")
    assert not any((heater_off_case(on), bonded(on), elements_read(on)))


def test_a_bond_is_read_as_joined() -> None:
    on = open_bench_of("missing-bond")
    on.ohms("plug-G", "case")
    assert not bonded(on)
    on = open_bench_of()
    on.ohms("case", "plug-G")
    assert on.trail[-1]["reading"]["value"] <= CLOSED_OHMS
    assert bonded(on)
    on.trail[-1]["reading"]["value"] = CLOSED_OHMS
    assert bonded(on)
    on.trail[-1]["reading"]["value"] = CLOSED_OHMS + 0.01
    assert not bonded(on)


@pytest.mark.parametrize("left_out", [1, 2, 3])
def test_each_element_is_read_alone_and_as_a_number(left_out: int) -> None:
    on = open_bench_of(pulled=HEATER)
    for n in (1, 2, 3):
        if n != left_out:
            on.ohms(f"T{n}", "T0")
    assert not elements_read(on)
    on.ohms("T0", f"T{left_out}")
    assert elements_read(on)
    joined = open_bench_of()
    for n in (1, 2, 3):
        joined.ohms(f"T{n}", "T0")
    assert not elements_read(joined)
    broken = open_bench_of("element-2-open", pulled=HEATER)
    for n in (1, 2, 3):
        broken.ohms(f"T{n}", "T0")
    assert not elements_read(broken)


# --- the run ----------------------------------------------------------------------------------------------------------


def test_it_runs_closed_up_with_heat_and_the_exhaust_is_read_meanwhile() -> None:
    on = did(open_bench_of(), *RUN)
    assert (ran(on), exhaust_read(on)) == (True, False)
    assert on.temperature("exhaust").value > WARM
    assert exhaust_read(on)
    room = did(open_bench_of(), *RUN)
    room.temperature("room")
    assert not exhaust_read(room)
    cold = did(open_bench_of(), "cover_on", "plug_in", "press_start", "let_run")
    cold.temperature("exhaust")
    assert (ran(cold), exhaust_read(cold)) == (False, False)
    again = did(open_bench_of(), *RUN)
    again.temperature("exhaust")
    again.trail[-1]["reading"]["value"] = WARM
    assert exhaust_read(again)
    again.trail[-1]["reading"]["value"] = WARM - 0.1
    assert not exhaust_read(again)


@pytest.mark.parametrize("ends", ["stop", "unplug", "open_breaker", "open_door"])
def test_what_ends_the_run_ends_the_reading(ends: str) -> None:
    on = did(open_bench_of(), *RUN, ends)
    on.temperature("exhaust")
    assert (ran(on), exhaust_read(on)) == (True, False)


def test_an_open_machine_proves_nothing_and_neither_does_a_run_before_the_work() -> None:
    on = did(open_bench_of(), "gear_on", "plug_in", "ask_heat", "press_start", "let_run")
    on.temperature("exhaust")
    assert not ran(on)
    before = did(open_bench_of(), *RUN)
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
        ("ground wire", ("plug-G", "case"), ("T0", "case")),
    ],
)
def test_a_part_is_read_between_its_own_points_before_it_is_replaced(
    name: str, pair: tuple[str, str], other: tuple[str, str]
) -> None:
    for points, read in ((pair, True), (other, False)):
        on = open_bench_of(pulled=HEATER)
        on.ohms(*points)
        assert parts_read(did(on, part(name))) is read
    late = did(open_bench_of(pulled=HEATER), part(name))
    late.ohms(*pair)
    assert not parts_read(late)
    assert parts_read(open_bench_of())


def test_the_vent_is_looked_into_before_it_is_swept() -> None:
    assert parts_read(did(open_bench_of("blocked-vent=0.5"), "look_vent", part("vent")))
    assert not parts_read(did(open_bench_of("blocked-vent=0.5"), part("vent"), "look_vent"))
    on = open_bench_of("blocked-vent=0.5")
    on.ohms("H5", "H6")
    assert not parts_read(did(on, part("vent")))


def test_sound_parts_are_counted_with_what_they_cost() -> None:
    on = did(open_bench_of("element-1-open"), part("element 1"))
    assert unneeded(on) == []
    assert unneeded(did(on, part("high limit"), part("thermal cut-off"))) == ["high limit", "thermal cut-off"]
    assert wasted(on) == "You replaced good parts: 2. The customer would pay $32 for them."
    assert unneeded(open_bench_of("element-1-open")) == []


def test_closed_up_and_searched() -> None:
    assert closed_up(Bench())
    assert not closed_up(open_bench_of())
    assert closed_up(did(open_bench_of(), "cover_on"))
    assert not closed_up(did(open_bench_of(pulled=("wire T1",)), "cover_on"))
    assert not searched(open_bench_of())
    assert searched(did(Bench(), "unplug", "look_vent"))
    on = open_bench_of()
    on.ohms("H1", "H8")
    assert not searched(on)
    on.ohms("H6", "H5")
    assert searched(on)
