"""Calls on machines of the family are marked: an honest job by the advice is right, and what is not is said."""

from __future__ import annotations

import pytest

from dryerbench.bench import trail
from dryerbench.bench.access import pullable
from dryerbench.bench.acts import HANDS
from dryerbench.bench.bench import Bench
from dryerbench.bench.trail import Act
from dryerbench.diagnosis.machine_calls import MachineCall, told_call, told_calls
from dryerbench.diagnosis.machine_cases import book
from dryerbench.diagnosis.machine_evidence import MachineEvidence
from dryerbench.diagnosis.machine_menu import Reading
from dryerbench.diagnosis.machine_trail import evidence_on, found_out
from dryerbench.family.arrangement import CABINET
from legtoleg.marking.judgements import UNSAFE
from legtoleg.marking.machine_call_marking import CallMarks, judge_call

_DEAD = ("look", "ohms")
SHORT = (2, 9, 10)
"""Calls whose books are quickly made, told from the dead machine."""


def opened(call: MachineCall) -> Bench:
    """Return the bench with the machine dead, proved dead, and open."""
    bench = Bench(call.machine, call.faults)
    for act in ("unplug", "prove_meter", "test_dead", "prove_meter", "gear_on", "cover_off"):
        bench.do(act)
    bench.do("test_dead", where="block")
    bench.do("prove_meter")
    bench.do("null_leads")
    bench.do("set_dial", mode="ohms")
    return bench


def take(bench: Bench, one: Reading) -> None:
    """Do what a reading of a dead machine takes, and read."""
    made, setting = bench_arrangement(bench), one.setting
    if one.mode == "look":
        bench.do("look_vent") if one.places == ("vent",) else bench.do("look", place=one.places[0])
        return
    if bench.state.door_closed != setting.door_closed:
        bench.do("open_door" if bench.state.door_closed else "close_door")
    bench.do("ask_heat", heat=setting.dial)
    wanted = set()
    if setting.pulled:
        there = made.box_terminals if one.state.startswith("box free") else one.places
        wanted = {wire.name for point in there if point in made.points for wire in made.wires_at(point)}
    for wire in sorted(wanted - bench.state.pulled):
        if wire in pullable(bench_machine(bench)):
            bench.do("pull_wire", wire=wire)
    for wire in sorted(bench.state.pulled - wanted):
        bench.do("put_back_wire", wire=wire)
    bench.ohms(*("case" if place == CABINET else place for place in one.places))


def bench_machine(bench: Bench):
    from dryerbench.bench.worksite import machine_on

    return machine_on(bench)


def bench_arrangement(bench: Bench):
    return bench_machine(bench).stands.arrangement


def can(one: Reading) -> bool:
    setting = one.setting
    plain = not setting.stirred and not setting.start_pressed and "held" not in one.state
    return one.mode in _DEAD and not one.live and plain


def search(call: MachineCall) -> Bench:
    """Return the bench after the advice was followed with dead readings, as far as it says anything."""
    bench = opened(call)
    known = book(bench_arrangement(bench))
    evidence = MachineEvidence(known, qualified=False)
    evidence.hear(call.heard)
    for _ in range(20):
        advice = evidence.by_rate()
        if advice is None or evidence.leading[1] > 0.99:
            break
        if not can(advice.reading):
            evidence.shown[advice.reading] = 0.0
            continue
        take(bench, advice.reading)
        (value,) = [shown for _, shown in list(found_out(bench_arrangement(bench), bench.trail))[-1:]]
        evidence.weigh(advice.reading, value)
    return bench


def finish(bench: Bench, call: MachineCall) -> list[Act]:
    """Repair all causes, read heater and bond, close up, let it run."""
    made = bench_arrangement(bench)
    for part in call.parts:
        bench.do("replace_part", part=part)
    for wire in sorted(bench.state.pulled):
        bench.do("put_back_wire", wire=wire)
    for terminal in made.box_terminals:
        bench.ohms(terminal, "case")
    bond = "plug-G" if made.cord == "four-wire" else "N"
    bench.ohms(bond, "case")
    for act in ("cover_on", "gear_off"):
        bench.do(act)
    bench.do("ask_heat", heat="off")
    bench.do("plug_in")
    bench.do("ask_heat", heat=made.heats[0])
    bench.do("press_start")
    bench.do("let_run")
    bench.do("stop")
    bench.do("ask_heat", heat="off")
    return bench.trail


def judged(call: MachineCall, acts: list[Act], said: tuple[str, ...]) -> CallMarks:
    return judge_call(call, acts, said, 6.0, trail.VERSION)


def names(call: MachineCall) -> tuple[str, ...]:
    return tuple(fault.partition("=")[0] for fault in call.faults)


@pytest.mark.parametrize("number", SHORT)
def test_an_honest_job_by_the_advice_is_right(number: int) -> None:
    call = told_call(number)
    bench = search(call)
    acts = finish(bench, call)
    marks = judged(call, acts, names(call))
    assert not [finding for finding in bench.findings if finding.gate]
    assert marks.close.note == "right", marks.close.says
    assert marks.name.note in ("right", "thin_evidence")
    assert marks.name.points >= 3.0


def test_evidence_makes_the_difference() -> None:
    call = told_call(10)
    full = judged(call, finish(search(call), call), names(call))
    thin = judged(call, finish(opened(call), call), names(call))
    assert (full.name.note, thin.name.note) == ("right", "thin_evidence")
    assert full.name.points == 2 * thin.name.points


def test_a_wrong_name_and_half_of_what_is_wrong_earn_nothing() -> None:
    call = told_call(2)
    acts = finish(search(call), call)
    for said in ((), ("coil-open-of-several@p-q",), names(call)[1:]):
        assert judged(call, acts, said).name.note == "wrong"
    assert judged(call, acts, ("gremlin",)).name.note == "bad_record"


def test_the_cause_left_in_or_a_sound_part_out_is_no_close() -> None:
    call = told_call(2)
    bench = opened(call)
    bench.do("replace_part", part=call.parts[-1])
    half = judged(call, bench.trail, ())
    assert "what made the part fail" in half.close.says
    assert "every cover" in half.close.says
    bench.do("replace_part", part="Cut")
    assert "You replaced good parts: 1" in judged(call, bench.trail, ()).close.says


def test_an_unsafe_act_holds_name_and_close() -> None:
    call = told_call(10)
    bench = Bench(call.machine, call.faults)
    bench.do("cover_off")
    bench.do("pull_wire", wire=pullable(call.machine)[0])
    marks = judged(call, bench.trail, names(call))
    assert (marks.name.note, marks.close.note) == (UNSAFE, UNSAFE)


@pytest.mark.parametrize("number", [5, 6, 7, 8])
def test_what_is_not_a_technicians_is_handed_over(number: int) -> None:
    call = told_call(number)
    bench = Bench(call.machine, call.faults)
    bench.do("unplug")
    bench.do("cap_plug")
    assert "hand it to someone licensed" in judged(call, bench.trail, ()).close.says
    bench.do("stop_and_hand_over", to=call.hands)
    bench.do("phone_customer", about="out of use")
    assert judged(call, bench.trail, ()).close.note == "right"
    assert call.hands in HANDS


def test_a_sound_machine_needs_no_part() -> None:
    call = told_call(14)
    bench = opened(call)
    bench.do("phone_customer", about="how to use it")
    bench.do("cover_on")
    assert judged(call, bench.trail, ("sound",)).close.note == "right"
    bench.do("cover_off")
    bench.do("replace_part", part="coil p-q")
    assert "no part was needed" in judged(call, bench.trail, ("sound",)).close.says


def test_damaged_acts_are_no_traceback() -> None:
    call = told_call(10)
    for acts in ([{"act": 3}], [{"act": "fly"}], [{"act": "probe", "with": {"a": "T0", "b": "x"}}]):
        assert judged(call, acts, ()).close.note == "bad_trail"


def test_evidence_after_a_repair_counts_nothing() -> None:
    call = told_call(10)
    bench = opened(call)
    before = evidence_on(call.machine, bench.trail, call.heard).odds()
    bench.do("replace_part", part="Coi")
    bench.ohms("L1", "L2")
    assert evidence_on(call.machine, bench.trail, call.heard).odds() == before


def test_all_kinds_are_among_the_calls() -> None:
    assert {row.text("kind") for row in told_calls()} == {"plain", "cause", "hand over", "two", "nothing wrong"}


def two_apart() -> MachineCall:
    """Return a call with two faults that have nothing to do with each other: no pair of the book is theirs."""
    call = told_call(13)
    assert len(call.faults) == 2
    assert not any(set(names(call)) <= set(one[0].split(" + ")) for one in book(call.machine.stands.arrangement).names)
    return call


def test_each_of_two_faults_needs_its_own_reading() -> None:
    """Naming both on readings that show one was as good as showing both; now it is half."""
    call = two_apart()
    coil, bond = Reading("ohms", ("Box.p", "Box.q"), "alone"), Reading("ohms", (CABINET, "plug-G"), "off")
    rest = [Reading("ohms", ("Box.r", "Box.q"), "alone"), Reading("ohms", ("Box.s", "Box.q"), "alone")]
    marks = {}
    for what, readings in {"coil": [coil, *rest], "bond": [bond], "both": [coil, *rest, bond]}.items():
        bench = opened(call)
        for one in readings:
            take(bench, one)
        marks[what] = judged(call, bench.trail, names(call)).name
    assert marks["both"].note == "right", marks["both"]
    assert marks["coil"].note == marks["bond"].note == "thin_evidence"
    assert marks["both"].points == 2 * marks["coil"].points
