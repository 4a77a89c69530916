"""Solvable as taught: every fault dealt is told from all that its card offers by readings that the lessons teach."""

from __future__ import annotations

from typing import Any

import pytest

from dryerbench.bench.faults import Fault, catalogue, family_of, fault_names, fits, from_family, of_family, read_fault
from dryerbench.bench.machine import Machine
from dryerbench.course.bench_card import faults_of, machine_of
from dryerbench.diagnosis.complaints import heard
from dryerbench.diagnosis.taught import taught_by
from dryerbench.family.fault_readings import shown_by
from dryerbench.registry import sheet
from dryerbench.topics.call_to_close.sheet import heard_on
from dryerbench.topics.heat_switches.sheet import cause_of
from legtoleg.keys.answer_key import references

IDS = [f"someone-{n}" for n in range(200)]
FAULTS = {
    "02_two_legs": "receptacle_fault",
    "04_trusting_the_meter": "behind_the_beep",
    "05_path_to_case": "fault_to_case",
    "07_tracing_the_circuit": "open_part",
}
"""The questions that ask for a fault of the catalogue by its name; lesson 10 has machines of the family."""
CAUSES = {"thermostat": "cycling-welded", "limit": "high-limit-stuck", "air": "blocked-vent"}


def as_faults(name: str, machine: Machine) -> tuple[Fault, ...]:
    return (read_fault(name),) if name in fault_names() and fits(read_fault(name), machine) else ()


def told_apart(lesson: str, machine: Machine, dealt: tuple[Fault, ...], other: tuple[Fault, ...]) -> bool:
    """Return whether a reading taught by ``lesson`` shows another class of value for ``dealt`` than for ``other``."""
    for row in taught_by(lesson):
        one, two = row.shown(machine, dealt), row.shown(machine, other)
        if (row.is_sound(one), row.is_faulty(one)) != (row.is_sound(two), row.is_faulty(two)):
            return True
    return False


@pytest.mark.parametrize("lesson", FAULTS)
def test_every_dealt_fault_is_told_from_every_other_on_its_card(lesson: str) -> None:
    question: Any = sheet(lesson).question(FAULTS[lesson])
    reference: Any = next(one for one in references(lesson) if one.question == question.name)
    seen: dict[tuple[Any, ...], bool] = {}
    for apprentice in IDS:
        card = sheet(lesson).card(apprentice)
        dealt = tuple(read_fault(fault) for fault in faults_of(card))
        wrong = [option.key for option in question.options_for(card) if option.key not in reference.right(card)]
        for name in wrong:
            key = (dealt, name, machine_of(card).cord)
            if key not in seen:
                seen[key] = told_apart(lesson, machine_of(card), dealt, as_faults(name, machine_of(card)))
            assert seen[key], (apprentice, dealt, name)


def test_what_blew_the_cut_off_is_told_from_the_other_causes() -> None:
    for apprentice in IDS[:60]:
        card = sheet("06_heat_switches").card(apprentice)
        dealt = tuple(read_fault(fault) for fault in faults_of(card))
        for cause, fault in CAUSES.items():
            if cause != cause_of(card):
                other = (read_fault("cut-off-blown"), read_fault(fault))
                assert told_apart("06_heat_switches", machine_of(card), dealt, other), (apprentice, cause)


@pytest.mark.parametrize("call", [1, 2])
def test_every_fault_of_calls_1_and_2_is_seen_by_a_reading_of_the_catalogue_or_a_look(call: int) -> None:
    for apprentice in IDS:
        card = sheet("10_call_to_close").card(apprentice)
        machine = machine_of(card, call)
        assert machine.stands is not None
        for fault in family_of(machine, [read_fault(text, machine) for text in faults_of(card, call)]):
            vent = catalogue(from_family(fault).name)["part"] == "vent"
            assert vent or any(one.telling for one in shown_by(machine.stands, fault)), (apprentice, fault)


def test_no_wrong_complaint_contradicts_the_lesson_s_own_table() -> None:
    """What a fault of the lessons' machine is heard as by the table, the physics says of its kind on any machine."""
    question: Any = sheet("10_call_to_close").question("suspects")
    reference: Any = next(one for one in references("10_call_to_close") if one.question == "suspects")
    tabled = {of_family(read_fault(name), "four-wire").name: key for key, (_, names) in heard().items()
              for name in names if not name.startswith("lost-leg")}  # fmt: skip
    met = set()
    for apprentice in IDS:
        card = sheet("10_call_to_close").card(apprentice)
        key, right = heard_on(card), reference.right(card)
        assert right
        for option in question.options_for(card):
            kind = option.key.partition("@")[0]
            if kind in tabled:
                assert (tabled[kind] == key) == (option.key in right), (apprentice, option.key)
                met.add(kind)
    assert len(met) > 8


def test_a_reading_not_taught_yet_tells_nothing() -> None:
    dealt, other = (read_fault("run-winding-open"),), (read_fault("door-switch-open"),)
    assert told_apart("10_call_to_close", Machine(), dealt, other)
    assert not told_apart("06_heat_switches", Machine(), dealt, other)
