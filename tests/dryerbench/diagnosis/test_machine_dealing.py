"""Calls to be marked: a plain fault, or causes with what they blow, never on an arrangement that is left out."""

from __future__ import annotations

from collections import Counter

import pytest

from dryerbench.bench.faults import catalogue, family_of, from_family, read_fault
from dryerbench.bench.heat_effects import over_a_load
from dryerbench.bench.machine import Machine
from dryerbench.core.random_stream import Stream
from dryerbench.diagnosis import call_dealing, machine_dealing
from dryerbench.diagnosis.call_dealing import DealingError
from dryerbench.diagnosis.machine_dealing import (
    CAUSES,
    cause_pairs,
    deal_cause,
    deal_plain,
    is_made,
    plain_faults,
    with_cause,
)
from dryerbench.family.kinds import ONE_SHOT
from dryerbench.family.shelf import arrangement, machine_names

FOUR_WIRE = {one for one in machine_names() if arrangement(one).cord == "four-wire"} - {"schoolroom"}


def test_a_plain_fault_is_a_technician_s_and_nothing_made_it() -> None:
    for name in FOUR_WIRE:
        made = arrangement(name)
        shots = {part.name for part in made.of_kind(*ONE_SHOT)}
        for fault in plain_faults(made):
            assert catalogue(from_family(fault).name)["who"] == "mechanic"
            assert fault.on not in shots
            assert fault.name not in ("lead-chafed", "overload-tripped")


def test_a_plain_call_is_on_any_machine_with_a_ground_wire_but_those_left_out() -> None:
    visits = [deal_plain("x", Stream(f"test/{number}"), ("garage",)) for number in range(200)]
    made = {visit.machine.stands.arrangement.name.lower() for visit in visits if visit.machine.stands}
    assert made == FOUR_WIRE - {"garage"}
    counts = Counter(len(visit.faults) for visit in visits)
    assert 8 < counts[0] < 40
    assert 8 < counts[2] < 40
    assert {visit.faults[0] for visit in visits if len(visit.faults) == 2} == {"ground-off"}
    assert {visit.heard for visit in visits if not visit.faults} == {"slow"}
    again = deal_plain("x", Stream("test/7"), ("garage",))
    assert (again.machine.tag, again.faults, again.words) == (visits[7].machine.tag, visits[7].faults, visits[7].words)


def test_a_call_with_a_cause_has_its_effect_first_and_this_very_machine_makes_it() -> None:
    assert set(with_cause(("porch",))) == set(with_cause()) - {"porch"} < FOUR_WIRE
    for number in range(40):
        visit = deal_cause("x", Stream(f"test/{number}"), ("porch",))
        assert visit.machine.stands
        assert visit.machine.stands.arrangement.name != "Porch"
        effect, *causes = family_of(visit.machine, [read_fault(one, visit.machine) for one in visit.faults])
        assert is_made(visit.machine, (*causes, effect))
        assert {cause.name for cause in causes} <= {*CAUSES, "cycling-welded"}
        pairs = {
            frozenset((one.name, one.on) for one in pair) for pair in cause_pairs(visit.machine.stands.arrangement)
        }
        own = {(one.name, one.on) for one in (effect, *causes) if one.name != "cycling-welded"}
        assert own in pairs


def test_a_machine_on_which_nothing_blows_is_one_line_and_no_endless_deal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(machine_dealing, "is_made", lambda *_: False)
    with pytest.raises(DealingError, match="it has no call with a cause"):
        deal_cause("x", Stream("test/0"))
    monkeypatch.setattr(call_dealing, "over_a_load", lambda *_: over_a_load(Machine(), ()))
    with pytest.raises(DealingError, match="it has no call with a cause"):
        call_dealing.deal_faults("cause", Stream("test/0"))
