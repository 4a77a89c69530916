"""Calls on machines of the family: what is dealt goes together by the physics, and the same number is the same call."""

from __future__ import annotations

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import family_of, from_family, read_fault
from dryerbench.bench.heat_effects import over_a_load
from dryerbench.core.random_stream import Stream
from dryerbench.diagnosis.machine_calls import (
    MachineCall,
    MachineCallError,
    told_call,
    told_calls,
)
from dryerbench.diagnosis.machine_dealing import deal_cause, deal_plain
from dryerbench.family.kinds import ONE_SHOT

NUMBERS = range(1, len(told_calls()) + 1)


def blown_by(call: MachineCall) -> tuple[frozenset[str], set[str]]:
    """Return the one-shot switches that the other faults of ``call`` blow over a load, and those that are blown."""
    known = [read_fault(fault, call.machine) for fault in call.faults]
    assert call.machine.stands is not None
    there = {part.name for part in call.machine.stands.arrangement.of_kind(*ONE_SHOT)}
    effects = [fault for fault in family_of(call.machine, known) if fault.kind.does == "opens" and fault.on in there]
    causes = tuple(one for one in known if str(one) not in {str(from_family(effect)) for effect in effects})
    return over_a_load(call.machine, causes).blown, {effect.on for effect in effects}


@pytest.mark.parametrize("number", NUMBERS)
def test_a_told_call_stands_on_the_bench_and_is_the_same_again(number: int) -> None:
    call = told_call(number)
    assert told_call(number) == call
    assert Bench(call.machine, call.faults).state == Bench(told_call(number).machine, call.faults).state
    assert bool(call.hands) == (call.kind == "hand over")
    assert bool(call.faults) == (call.kind != "nothing wrong")
    assert (len(call.faults) > 1) or call.kind != "two"


@pytest.mark.parametrize("number", NUMBERS)
def test_what_is_blown_in_a_told_call_is_what_its_causes_blow(number: int) -> None:
    made, told = blown_by(told_call(number))
    assert made == told


def test_a_welded_motor_contact_alone_blows_no_cut_off() -> None:
    call = next(call for call in map(told_call, NUMBERS) if any("motor-contact-welded" in one for one in call.faults))
    alone = (read_fault("motor-contact-welded@Cen", call.machine),)
    assert not over_a_load(call.machine, alone).blown
    assert blown_by(call)[0] == {"Cut"}


def test_no_word_of_a_dealt_call_gives_one_fault_away() -> None:
    """What is heard on a dealt call is the catalogue's, not the words of the practice calls."""
    told = {told_call(number).words for number in NUMBERS}
    dealt = {deal("m", Stream(f"words/{n}")).words for deal in (deal_plain, deal_cause) for n in range(20)}
    assert not told & dealt


def test_what_does_not_exist_is_one_line() -> None:
    with pytest.raises(MachineCallError, match="numbered 1 to"):
        told_call(0)
