"""The search on a call of the family's machines: hints lead to the fault, a name counts as its readings show."""

from __future__ import annotations

import pytest

from dryerbench.bench.access import pullable
from dryerbench.bench.acts import HANDS
from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import from_family
from dryerbench.bench.worksite import machine_on
from dryerbench.diagnosis.candidates import SOUND
from dryerbench.diagnosis.machine_calls import MachineCall, machine_call_of, told_call, told_calls
from dryerbench.diagnosis.machine_cases import book
from dryerbench.diagnosis.machine_menu import Reading
from dryerbench.diagnosis.machine_search import (
    ENOUGH,
    advised_way,
    judge_name,
    next_reading,
    offered,
    searched,
    title_on,
    usual_minutes,
)
from dryerbench.diagnosis.machine_trail import evidence_on
from dryerbench.family.arrangement import CABINET
from dryerbench.family.faults import faults_of
from dryerbench.family.shelf import arrangement, machine_names

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
    made, setting = machine_on(bench).stands.arrangement, one.setting
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
        if wire in pullable(machine_on(bench)):
            bench.do("pull_wire", wire=wire)
    for wire in sorted(bench.state.pulled - wanted):
        bench.do("put_back_wire", wire=wire)
    bench.ohms(*("case" if place == CABINET else place for place in one.places))


def by_hints(call: MachineCall) -> Bench:
    """Return the bench after the hints were followed as long as they are dead readings or looks."""
    bench = opened(call)
    for _ in range(20):
        advice = next_reading(call, bench)
        if advice is None or searched(call, bench).leading[1] > ENOUGH + 0.09:
            break
        setting = advice.reading.setting
        if setting.powered or advice.reading.live or setting.stirred or setting.start_pressed or "held" in str(setting):
            break
        if advice.reading.mode not in ("look", "ohms"):
            break
        take(bench, advice.reading)
    return bench


def title(call: MachineCall, place: int = 0) -> tuple[str, ...]:
    """Return the names that the page offers under the title of the fault ``place`` of a call."""
    return offered(call.made)[title_on(call.names[place])]


@pytest.mark.parametrize("number", SHORT)
def test_hints_lead_to_a_fault_that_can_be_named(number: int) -> None:
    call = told_call(number)
    bench = by_hints(call)
    said = [judge_name(call, bench, title(call, place)) for place in range(len(call.faults))]
    assert all(one.right for one in said)
    assert any(one.shown for one in said)
    assert not [finding for finding in bench.findings if finding.gate]


def test_a_name_without_readings_is_right_and_not_shown() -> None:
    call = told_call(10)
    said = judge_name(call, opened(call), title(call))
    assert (said.right, said.shown, said.more) == (True, False, False)
    assert said.left
    assert title_on(call.names[0]) not in said.left


def test_a_wrong_name_is_wrong_whatever_was_read() -> None:
    call = told_call(10)
    bench = by_hints(call)
    known = book(call.made)
    alike = {one for names in known.names if call.names[0] in names for one in names}
    for words, names in offered(call.made).items():
        right = bool(alike & set(names))
        assert judge_name(call, bench, names).right == right, words


def test_a_sound_machine_is_named_as_that() -> None:
    call = told_call(14)
    assert judge_name(call, Bench(call.machine), (SOUND,)).right
    assert not judge_name(call, Bench(call.machine), offered(call.made)["high limit stuck closed"]).right


def test_of_two_faults_each_needs_its_own_reading() -> None:
    """Two that seldom come together: no pair of the book is theirs."""
    call = told_call(13)
    assert not any(set(call.names) <= set(one[0].split(" + ")) for one in book(call.made).names)
    coil = [Reading("ohms", (point, "Box.q"), "alone") for point in ("Box.p", "Box.r", "Box.s")]
    bond = [Reading("ohms", (CABINET, "plug-G"), "off")]
    shown = {}
    for what, readings in {"coil": coil, "bond": bond, "both": [*coil, *bond]}.items():
        bench = opened(call)
        for one in readings:
            take(bench, one)
        shown[what] = [judge_name(call, bench, title(call, place)).shown for place in (0, 1)]
    assert shown == {"coil": [True, False], "bond": [False, True], "both": [True, True]}
    first = judge_name(call, bench, title(call, 0))
    assert first.more
    assert not judge_name(call, bench, title(call, 1), title(call, 0)).more


def test_a_hint_that_was_followed_does_not_come_again() -> None:
    call = told_call(10)
    bench = opened(call)
    before = []
    for _ in range(6):
        advice = next_reading(call, bench)
        if advice is None or advice.reading.mode not in ("look", "ohms") or advice.reading.powered:
            break
        before.append(advice.reading)
        take(bench, advice.reading)
    assert len(before) > 1
    assert len(set(before)) == len(before)


def test_what_was_read_heard_and_felt_is_not_offered_again() -> None:
    call = told_call(10)
    bench = Bench(call.machine, call.faults)
    heat = call.made.heats[0]
    bench.do("ask_heat", heat=heat)
    bench.do("press_start")
    bench.do("let_run")
    bench.do("stop")
    evidence = searched(call, bench)
    free = [evidence.book.readings[place] for place in evidence.free()]
    ran = [one for one in evidence.book.readings if one.mode in ("listen", "warmth") and one.setting.dial == heat]
    assert len(ran) == 2
    assert not set(ran) & set(free)
    bench = opened(call)
    one = next(one for one in evidence.book.readings if one.state == "off" and one.mode == "ohms")
    take(bench, one)
    found = searched(call, bench)
    assert one not in [found.book.readings[place] for place in found.free()]
    apart = [other for other in found.book.readings if set(other.places) == set(one.places) and other.setting.pulled]
    assert not set(apart) & set(found.shown)


def test_evidence_after_a_repair_counts_nothing() -> None:
    call = told_call(10)
    bench = opened(call)
    before = evidence_on(call.machine, bench.trail, call.hear).odds()
    bench.do("replace_part", part="Coi")
    bench.ohms("L1", "L2")
    assert evidence_on(call.machine, bench.trail, call.hear).odds() == before


@pytest.mark.parametrize("number", SHORT)
def test_the_advised_way_ends_at_the_fault_and_its_minutes_add_up(number: int) -> None:
    way = advised_way(told_call(number))
    assert way.right
    assert way.minutes == pytest.approx(sum(step.minutes for step in way.steps))
    assert (way.steps[-1].names, way.steps[-1].odds) == (way.names, way.odds)


@pytest.mark.parametrize("name", machine_names())
def test_everything_that_can_be_wrong_can_be_named_once(name: str) -> None:
    made = arrangement(name)
    there = [one for names in offered(made).values() for one in names]
    assert sorted(there) == sorted([SOUND, *(from_family(fault).name for fault in faults_of(made))])


@pytest.mark.parametrize("name", machine_names())
def test_the_table_has_minutes_for_every_machine(name: str) -> None:
    usual = usual_minutes(arrangement(name).name)
    assert 0.0 < usual.advised <= usual.textbook


# --- dealt calls ----------------------------------------------------------------------------------------------------

DEALT = range(len(told_calls()) + 1, len(told_calls()) + 31)


def test_dealt_calls_take_turns_and_are_the_same_each_time() -> None:
    calls = [machine_call_of(number) for number in DEALT]
    assert [call.kind for call in calls[:6]] == ["plain", "cause", "hand over"] * 2
    assert [machine_call_of(number).faults for number in DEALT] == [call.faults for call in calls]
    assert len({call.made.name for call in calls}) > 5
    assert len({call.faults for call in calls}) > 15


@pytest.mark.parametrize("number", DEALT)
def test_a_dealt_call_is_heard_as_what_is_wrong_and_says_whose_it_is(number: int) -> None:
    call = machine_call_of(number)
    assert not call.faults or set(call.names) & call.alike
    assert bool(call.hands) == (call.kind == "hand over")
    if call.hands:
        assert call.hands in HANDS
        assert call.goes_to(call.hands)
        assert not all(call.goes_to(to) for to in (*HANDS, "nobody"))


def test_what_customers_tell_in_the_same_words_keeps_its_odds() -> None:
    call = machine_call_of(DEALT[0])
    evidence = evidence_on(call.machine, (), call.hear)
    plain = evidence_on(call.machine, ())
    single = [case.name for case in plain.book.cases if len(case.faults) == 1]
    other = next(name for name in single if name not in call.alike)
    mine = call.names[0]
    ratio = {}
    for what, one in (("heard", evidence), ("not", plain)):
        odds = {name: share for names, share in one.odds().items() for name in names}
        ratio[what] = odds[mine] / odds[other]
    assert ratio["heard"] > 2.0 * ratio["not"]
