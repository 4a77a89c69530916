"""Reset and tighten: what each puts right, what it leaves, what a trip after a reset says, and the third reset."""

from __future__ import annotations

from typing import Any

import pytest

from dryerbench.bench.access import arrangement_of
from dryerbench.bench.adjustments import resettable
from dryerbench.bench.bench import Bench, replay
from dryerbench.bench.machine import Machine, on_the_bench
from dryerbench.bench.work_done import after_work, is_repair
from dryerbench.bench.worksite import BenchError, faults_on, machine_on
from dryerbench.core.random_stream import Stream
from dryerbench.diagnosis.service_calls import before_repair
from dryerbench.family.machine import drawn_machine
from dryerbench.family.shelf import arrangement

DEAD = ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off")


def machine(name: str) -> Machine:
    return on_the_bench(drawn_machine(arrangement(name), Stream(f"test/{name}"), "test"))


def opened(name: str, *faults: str) -> Bench:
    """Return a machine with its cover off, proved dead at plug and block."""
    bench = Bench(machine(name), faults)
    for act in DEAD:
        bench.do(act)
    bench.do("test_dead", where="block")
    bench.do("prove_meter")
    return bench


def run(bench: Bench) -> Any:
    """Close it up, let it run with heat, and open it again, dead and cool; return what the run was."""
    for act in ("cover_on", "plug_in"):
        bench.do(act)
    bench.do("ask_heat", heat="high")
    bench.do("press_start")
    acts = [bench.do("let_run") for _ in range(6)]
    for act in ("stop", *DEAD, "cool_down"):
        bench.do(act)
    bench.do("test_dead", where="block")
    bench.do("prove_meter")
    return [word for act in acts for word in act["happened"]]


AGAIN = "it trips again after its reset: what made it trip is still there"


def test_a_reset_closes_what_tripped_and_costs_no_part() -> None:
    bench = opened("closet", "manual-tripped@Man")
    assert resettable(machine_on(bench)) == ("Man",)
    bench.do("pull_wire", wire="wire L1-Man.1")
    assert bench.ohms("Man.1", "Man.2").shown == "OL"
    done = bench.do("reset", part="Man")
    assert done["minutes"] == 2.0
    assert is_repair(done)
    assert not faults_on(bench)
    assert (bench.ohms("Man.1", "Man.2").value or 0.0) < 1.0
    assert "in already" in bench.do("reset", part="Man")["happened"][0]
    assert not is_repair(bench.trail[-1])
    assert [act["act"] for act in before_repair(bench.trail)][-1] == "probe"
    assert not bench.findings
    bench.do("put_back_wire", wire="wire L1-Man.1")
    assert "warm air comes out" in run(bench)


def test_a_reset_that_trips_again_says_so_and_the_third_is_a_finding() -> None:
    bench = opened("closet", "manual-tripped@Man", "limit-stuck@Lim", "vent-restricted=0.75")
    for time in (1, 2, 3):
        bench.do("reset", part="Man")
        assert [one.name for one in bench.findings].count("limit-reset") == (time == 3)
        if time < 3:
            assert AGAIN in run(bench)
            assert "Man" in bench.state.tripped
    found = next(one for one in bench.findings if one.name == "limit-reset")
    assert found.gate
    assert "find the cause" in found.caution


def test_a_part_replaced_between_starts_the_count_anew() -> None:
    bench = opened("closet", "manual-tripped@Man", "limit-stuck@Lim", "vent-restricted=0.75")
    for _ in range(2):
        bench.do("reset", part="Man")
        run(bench)
    bench.do("replace_part", part="Lim")
    bench.do("reset", part="Man")
    assert "limit-reset" not in {one.name for one in bench.findings}


def test_a_hot_button_does_not_stay_in() -> None:
    bench = opened("closet", "manual-tripped@Man")
    bench.do("warm_parts", celsius=90.0)
    assert "still hot" in bench.do("reset", part="Man")["happened"][0]
    assert faults_on(bench)
    bench.do("cool_down")
    bench.do("reset", part="Man")
    assert not faults_on(bench)


def test_what_has_no_button_or_is_covered_cannot_be_reset() -> None:
    with pytest.raises(BenchError, match="No part of this dryer has a reset button"):
        opened("garage").do("reset", part="Cut")
    with pytest.raises(BenchError, match="No part of this dryer"):
        Bench().do("reset", part="thermal cut-off")
    with pytest.raises(BenchError, match="these have one: Man"):
        opened("closet").do("reset", part="Lim")
    with pytest.raises(BenchError, match="behind the cover"):
        Bench(machine("closet"), ["manual-tripped@Man"]).do("reset", part="Man")


def lead(bench: Bench) -> str:
    made = arrangement_of(machine_on(bench))
    box = set(made.box_terminals)
    return next(wire.name for wire in made.wires if box & {wire.a, wire.b})


def test_a_loose_spade_and_a_loose_screw_are_tightened() -> None:
    wire = lead(opened("garage"))
    on = wire.removeprefix("wire ")
    bench = opened("garage", f"spade-loose@{on}=20", "block-screw-loose@L1=0.8")
    assert "nothing was loose" in bench.do("tighten", wire=other(bench, wire))["happened"][0]
    assert len(faults_on(bench)) == 2
    done = bench.do("tighten", wire=wire)
    assert "grips again" in done["happened"][0]
    assert [fault.name.partition("@")[0] for fault in faults_on(bench)] == ["block-screw-loose"]
    assert "a screw turns" in bench.do("tighten", wire="cord")["happened"][0]
    assert not faults_on(bench)
    assert after_work(bench) == []
    assert bench.trail[-1]["minutes"] == 4.0


def other(bench: Bench, wire: str) -> str:
    made = arrangement_of(machine_on(bench))
    return next(one.name for one in made.wires if one.name != wire and set(made.box_terminals) & {one.a, one.b})


def test_burnt_metal_is_not_tightened() -> None:
    wire = lead(opened("garage"))
    bench = opened("garage", f"spade-burnt@{wire.removeprefix('wire ')}=2")
    done = bench.do("tighten", wire=wire)
    assert "is replaced, not tightened" in done["happened"][0]
    assert not is_repair(done)
    assert faults_on(bench)
    own = Bench(faults=["burnt-joint"])
    for act in DEAD:
        own.do(act)
    assert "is replaced, not tightened" in own.do("tighten", wire="cord")["happened"][0]
    assert faults_on(own)


def test_a_wire_that_is_off_is_put_back_first() -> None:
    bench = opened("garage")
    wire = lead(bench)
    bench.do("pull_wire", wire=wire)
    with pytest.raises(BenchError, match="Put it back first"):
        bench.do("tighten", wire=wire)
    with pytest.raises(BenchError, match="no wire 'wire X' to tighten"):
        bench.do("tighten", wire="wire X")


def test_hands_in_a_live_machine_are_found_as_with_any_act() -> None:
    for act, given in (("reset", {"part": "Man"}), ("tighten", {"wire": "cord"})):
        bench = Bench(machine("closet"), ["manual-tripped@Man"])
        bench.do("cover_off")
        bench.do(act, **given)
        assert {one.name for one in bench.findings if one.gate} >= {"cover-before-dead"}
        assert bench.trail[-1]["facts"]["hands_on_live"]


def both(wire: str) -> tuple[str, str]:
    return "manual-tripped@Man", f"spade-loose@{wire.removeprefix('wire ')}=20"


def test_the_heater_is_read_to_the_case_again_after_a_joint_is_tightened() -> None:
    """What was read before hands were at its wires holds no more; a button leaves it as it is."""
    wire = lead(opened("closet"))
    for act, given, good in (("reset", {"part": "Man"}, True), ("tighten", {"wire": wire}, False)):
        bench = opened("closet", *both(wire))
        bench.ohms("plug-G", "case")
        for point in arrangement_of(machine_on(bench)).box_terminals:
            bench.ohms(point, "case")
        bench.do(act, **given)
        bench.do("cover_on")
        assert bench.safe_to_power is good


def test_a_trail_with_both_is_done_again_alike() -> None:
    wire = lead(opened("closet"))
    bench = opened("closet", *both(wire))
    bench.do("reset", part="Man")
    bench.do("tighten", wire=wire)
    assert replay(machine("closet"), bench.trail, both(wire)).trail == bench.trail
