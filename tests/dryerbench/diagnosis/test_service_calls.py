"""Calls: what is dealt can be found, hints lead there, and paths are shown on nobody's machine but practice's."""

from __future__ import annotations

import pytest

from dryerbench.bench.acts import BenchError
from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import FaultError, read_fault
from dryerbench.bench.machine import Machine
from dryerbench.bench.states import named_state
from dryerbench.bench.worksite import faults_on, machine_on
from dryerbench.core.random_stream import Stream
from dryerbench.core.tables import table
from dryerbench.diagnosis import service_calls
from dryerbench.diagnosis.ambiguity_groups import same_to_the_meter
from dryerbench.diagnosis.call_dealing import HANDED_OVER
from dryerbench.diagnosis.candidates import menu
from dryerbench.diagnosis.complaints import behind, heard_of, told_of
from dryerbench.diagnosis.paths import take
from dryerbench.diagnosis.service_calls import (
    FOUND_DEAD,
    NOT_FOUND_DEAD,
    CallError,
    advised_path,
    before_repair,
    compared_paths,
    deal_call,
    draw_machine,
    ended_at,
    evidence_of,
)

PAIRS = "T1 T0,T2 T0,T3 T0,T1 case,T2 case,T3 case,H1 H2,H3 H4,H5 H6,H7 H8,S1 S2,L1 D,W1 W0,Q N"


def read_dead(machine: Machine, fault: str) -> Bench:
    bench = Bench(machine, [fault])
    for act in ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off"):
        bench.do(act)
    bench.do("test_dead", where="block")
    bench.do("prove_meter")
    bench.ohms("plug-G", "case")
    for wire in sorted(named_state("all-wires-off").pulled):
        bench.do("pull_wire", wire=wire)
    bench.do("ask_heat", heat="high")
    for pair in PAIRS.split(","):
        bench.ohms(*pair.split())
    return bench


@pytest.mark.parametrize("name", FOUND_DEAD)
def test_dead_readings_single_it_out(name: str) -> None:
    bench = read_dead(draw_machine("a call", Stream(f"test/calls/{name}"), 27.0), name)
    heard = heard_of(name)
    assert evidence_of(bench, heard).singled_out(0.98) == [name]
    assert bench.findings == []


@pytest.mark.parametrize("name", NOT_FOUND_DEAD)
def test_dead_readings_do_not_single_it_out(name: str) -> None:
    bench = read_dead(Machine(), name)
    assert len(evidence_of(bench, heard_of(name)).singled_out()) > 1


def test_a_repair_takes_nothing_from_the_evidence() -> None:
    bench = read_dead(Machine(), "element-2-open")
    told = evidence_of(bench).odds()
    bench.do("replace_part", part="element 2")
    bench.ohms("T2", "T0")
    assert len(before_repair(bench.trail)) < len(bench.trail)
    assert evidence_of(bench).odds() == told


def test_the_same_number_is_the_same_call_and_faults_differ() -> None:
    calls = [deal_call(number) for number in range(1, 121)]
    assert faults_on(deal_call(7).bench) == faults_on(calls[6].bench)
    assert machine_on(deal_call(7).bench) == machine_on(calls[6].bench)
    names = {fault.name for call in calls for fault in faults_on(call.bench)}
    assert names >= {"cut-off-blown", "blocked-vent", "run-winding-open", *HANDED_OVER}
    for number, call in enumerate(calls, start=1):
        handed = {fault.name for fault in faults_on(call.bench)} & set(HANDED_OVER)
        assert bool(handed) == (number % 3 == 0)
    assert {machine_on(call.bench).cord for call in calls} == {"four-wire", "three-wire"}


@pytest.mark.parametrize("number", [0, -1, 1.5, "1", True, None])
def test_no_such_call(number: object) -> None:
    with pytest.raises(CallError, match=r"practice_call\(1\)"):
        deal_call(number)  # type: ignore[arg-type]


def test_hints_are_counted_and_say_what_to_read() -> None:
    call = deal_call(1)
    first = call.hint()
    assert first.startswith("Hint 1: With the plug out, ")
    assert first.endswith("look into lint screen, duct and vent hood.")
    call.bench.do("unplug")
    call.bench.do("look_vent")
    second = call.hint()
    assert second.startswith("Hint 2: read ")
    assert not any(fault.name in first + second for fault in faults_on(call.bench))
    assert call.hints == 2


def test_a_name_is_weighed_with_the_readings() -> None:
    call = deal_call(1)
    call.bench = Bench(Machine(name="practice call"), ["element-2-open"])
    call.heard = "slow"
    assert "do not leave only this one" in call.name_fault("element-2-open")
    call.bench = read_dead(Machine(name="practice call"), "element-2-open")
    assert "vent blocked" in call.name_fault("element-2-open")
    call.bench.do("look_vent")
    assert "leave only this one, with 0 hints" in call.name_fault("element-2-open")
    assert call.name_fault("cut-off-blown").startswith("Not thermal cut-off blown")
    assert call.named == [*["element-2-open"] * 3, "cut-off-blown"]
    with pytest.raises(FaultError):
        call.name_fault("gremlins")


def test_paths_are_compared_on_practice_machines_only() -> None:
    bench = read_dead(Machine(name="practice call 1"), "element-2-open")
    words = compared_paths(bench)
    assert f"Your path: {len(PAIRS.split(',')) + 1} readings" in words
    assert "coil 2 open" in words.splitlines()[-2]
    with pytest.raises(CallError, match="after it is graded"):
        compared_paths(read_dead(Machine(name="call of demo-01"), "element-2-open"))
    bench.do("replace_part", part="element 2")
    with pytest.raises(CallError, match="Nothing is wrong"):
        compared_paths(bench)


def test_the_advised_path_stays_dead_where_it_can() -> None:
    (dead,) = advised_path(Bench(Machine(name="practice"), ["cut-off-blown"]))
    assert not any(step.act.live for step in dead)
    (live,) = advised_path(Bench(Machine(name="practice"), ["lost-leg-2"]))
    assert any(step.act.live for step in live)
    assert read_fault("lost-leg-2").name == next(iter(live[-1].odds))


@pytest.mark.parametrize(
    ("faults", "still_known"),
    [
        (["element-1-open", "element-3-open"], 0),
        (["element-3-open", "missing-bond"], 2),
        (["cut-off-blown", "high-limit-stuck", "element-2-grounded=0.4"], 0),
        (["cut-off-blown", "high-limit-stuck", "cycling-welded", "blocked-vent=0.7"], 10),
    ],
)
def test_the_suggested_way_finds_one_fault_after_the_other(faults: list[str], still_known: int) -> None:
    """Readings that the first repair left as they were are not taken again, and cost no minute."""
    bench = Bench(Machine(name="practice"), faults)
    rounds = advised_path(bench)
    assert {ended_at(steps) for steps in rounds} == {read_fault(fault).name for fault in faults}
    kept = [step for step in rounds[-1] if not step.minutes]
    assert len(kept) >= still_known
    again = [step.act for step in rounds[-1] if step.minutes]
    assert not {step.act for step in kept} & set(again)
    words = compared_paths(bench).splitlines()
    assert sum(line.startswith("  You fix that, and go on. ") for line in words) == len(faults) - 1
    numbered = [int(line.split(".")[0]) for line in words if line[:4].strip(" .").isdigit()]
    assert numbered == list(range(1, len(numbered) + 1))


def test_faults_that_read_like_another_are_told_to_be_more_than_one(monkeypatch: pytest.MonkeyPatch) -> None:
    bench = Bench(Machine(name="practice"), ["element-2-open", "missing-bond"])
    misled = advised_path(Bench(Machine(name="practice"), ["cut-off-blown"]))[0]
    monkeypatch.setattr(service_calls, "dead_first", lambda *_: misled)
    assert len(advised_path(bench)) == 1
    assert "More than one thing is wrong here" in compared_paths(bench)


def test_what_is_no_act_is_still_refused_on_a_call() -> None:
    with pytest.raises(BenchError):
        deal_call(3).bench.do("plug_in")


def test_the_suggested_way_hears_the_customer() -> None:
    """No heat, and the control's contact: 52 minutes when the way did not hear, and pulled every wire twice."""
    (steps,) = advised_path(Bench(Machine(name="practice"), ["control-open"]))
    assert next(iter(steps[-1].odds)) == "control-open"
    assert sum(step.minutes for step in steps) < 26.0
    assert told_of([read_fault("control-open")]) == behind("no-heat")
    assert told_of([read_fault("missing-bond")]) == ()


@pytest.mark.parametrize("fault", ["motor-heat-contact-open", "blocked-vent", "cycling-welded"])
def test_the_suggested_way_ends_where_power_is_needed_too(fault: str) -> None:
    (steps,) = advised_path(Bench(Machine(name="practice"), [fault]))
    assert steps[-1].odds[fault] > 0.9
    assert sum(step.minutes for step in steps) < 60.0


def test_degrees_are_told_in_fahrenheit() -> None:
    words = compared_paths(Bench(Machine(name="practice"), ["cycling-welded"]))
    assert " °F" in words
    assert "°C" not in words
    probe = next(act for act in menu() if act.mode == "temperature")
    assert take(Machine(), (), probe).shown.endswith(" °F")
    assert not [row for row in table("bench-states").rows if "°C" in row.text("title")]


def test_every_call_has_something_to_find_or_nothing_wrong() -> None:
    """What is dealt reads otherwise than a sound machine does, or is seen at the vent."""
    for number in range(1, 61):
        bench = deal_call(number).bench
        faults = faults_on(bench)
        assert not {fault.name for fault in faults} & {"cycling-off-mark", "thermistor-drifted"}
        seen = any(fault.name == "blocked-vent" for fault in faults)
        assert not faults or seen or not same_to_the_meter(machine_on(bench), faults, ())


def test_a_leak_beside_a_blown_cut_off_is_not_passed_over() -> None:
    call = deal_call(1)
    call.heard = "no-heat"
    call.bench = read_dead(Machine(name="practice call"), "cut-off-blown")
    leaky = Bench(Machine(name="practice call"), ["cut-off-blown", "leakage-to-case=50000"])
    for act in call.bench.trail:
        leaky.do(act["act"], **act["with"])
    call.bench = leaky
    assert leaky.ohms("T0", "case").shown.endswith("kΩ")
    assert not evidence_of(leaky, "no-heat").safe_to_power
    assert not leaky.safe_to_power
    said = call.name_fault("cut-off-blown")
    assert "leave only this one" not in said or "not the only fault" in said
