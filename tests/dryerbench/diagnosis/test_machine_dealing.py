"""Calls to be marked: a plain fault, or causes with what they blow, never on an arrangement that is left out."""

from __future__ import annotations

from collections import Counter

import pytest

from dryerbench.bench.faults import catalogue, family_of, from_family, read_fault
from dryerbench.bench.heat_effects import over_a_load
from dryerbench.bench.machine import Machine
from dryerbench.core.random_stream import Stream
from dryerbench.diagnosis import call_dealing, machine_dealing
from dryerbench.diagnosis.call_dealing import DealingError, Visit
from dryerbench.diagnosis.machine_complaints import told_on
from dryerbench.diagnosis.machine_dealing import (
    STORIES,
    cause_pairs,
    deal_cause,
    deal_plain,
    is_made,
    plain_faults,
    story_of,
    with_cause,
)
from dryerbench.family.fault_readings import shown_by
from dryerbench.family.kinds import ONE_SHOT
from dryerbench.family.machine import standard
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


VISITS = [deal_cause("x", Stream(f"test/{number}"), ("porch",)) for number in range(60)]


def names_in(visit: Visit) -> list[str]:
    """Return the names of what is wrong on a call, without parts and strengths."""
    return [one.partition("@")[0].partition("=")[0] for one in visit.faults]


def test_a_call_with_a_cause_has_its_effect_first_and_this_very_machine_makes_it() -> None:
    assert set(with_cause(("porch",))) == set(with_cause()) - {"porch"} < FOUR_WIRE
    for visit in VISITS:
        assert visit.machine.stands
        made = visit.machine.stands.arrangement
        assert made.name != "Porch"
        effect, *causes = family_of(visit.machine, [read_fault(one, visit.machine) for one in visit.faults])
        assert is_made(visit.machine, (*causes, effect))
        pairs = {frozenset((one.name, one.on) for one in pair) for pair in cause_pairs(made)[story_of(names_in(visit))]}
        welded = "cycling-welded"
        assert {(one.name, one.on) for one in (effect, *causes) if one.name != welded} in pairs
        blown = {part.name for part in made.of_kind(*ONE_SHOT)}
        assert welded not in names_in(visit) or effect.on in blown
        assert visit.heard == told_on(made)[from_family(effect).name]


def test_no_story_is_dealt_to_most_or_to_hardly_anybody() -> None:
    """Over 400 names: none over two in five, none under one in twenty; on one machine, all that it can have."""
    told = Counter(story_of(names_in(deal_cause("x", Stream(f"share/{number}")))) for number in range(400))
    assert set(told) == set(STORIES)
    assert max(told.values()) < 0.4 * 400
    assert min(told.values()) > 0.05 * 400
    for name in with_cause():
        stories = cause_pairs(arrangement(name))
        but = [one for one in with_cause() if one != name]
        here = Counter(story_of(names_in(deal_cause("x", Stream(f"{name}/{n}"), but))) for n in range(40))
        assert set(here) == set(stories), name
        assert max(here.values()) < 40 * 1.6 / len(stories), name


def test_no_story_can_be_told_from_the_complaint_alone() -> None:
    """On no machine: whatever a customer says of a call with a cause there, at least two stories are told like that."""
    for name in with_cause():
        made = arrangement(name)
        told = told_on(made)
        heard: dict[str, set[str]] = {}
        for story, pairs in cause_pairs(made).items():
            for pair in pairs:
                heard.setdefault(told[from_family(pair[-1]).name], set()).add(story)
        assert heard
        assert all(len(stories) > 1 for stories in heard.values()), name
    words = {story: {v.words for v in VISITS if story_of(names_in(v)) == story} for story in STORIES}
    first, *others = words.values()
    assert all(first & other for other in others), "the very words are shared"


def test_each_cause_shows_by_a_reading_of_its_own_or_in_the_vent() -> None:
    for name in with_cause():
        made = arrangement(name)
        causes = {one for pairs in cause_pairs(made).values() for pair in pairs for one in pair[:-1]}
        for cause in causes:
            part = catalogue(from_family(cause).name)["part"]
            assert part == "vent" or next(shown_by(standard(made), cause), None) is not None


def test_what_is_no_story_is_none() -> None:
    assert story_of(["limit-stuck", "cut-off-blown"]) == ""
    assert story_of(["vent-restricted"]) == ""
    assert story_of(["spade-burnt", "cut-off-blown"]) == ""
    assert story_of(["manual-tripped", "lint-clogged", "limit-stuck", "cycling-welded"]) == "limit stuck, little air"


def test_a_machine_on_which_nothing_blows_is_one_line_and_no_endless_deal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(machine_dealing, "is_made", lambda *_: False)
    with pytest.raises(DealingError, match="it has no call with a cause"):
        deal_cause("x", Stream("test/0"))
    monkeypatch.setattr(call_dealing, "over_a_load", lambda *_: over_a_load(Machine(), ()))
    with pytest.raises(DealingError, match="it has no call with a cause"):
        call_dealing.deal_faults("cause", Stream("test/0"))
