"""Solvable as taught: every fault dealt is told from all that its card offers by readings that the lessons teach."""

from __future__ import annotations

from typing import Any

import pytest

from dryerbench.bench.faults import Fault, catalogue, fault_names, fits, read_fault
from dryerbench.bench.machine import Machine
from dryerbench.course.bench_card import faults_of, machine_of
from dryerbench.diagnosis.call_dealing import names_of
from dryerbench.diagnosis.complaints import behind, near
from dryerbench.diagnosis.taught import taught_by
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
    "10_call_to_close": "call_fault",
}
"""The questions that ask for a fault of the catalogue by its name."""
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
def test_every_fault_of_the_calls_on_the_lessons_machine_is_seen_by_a_reading_that_is_taught(call: int) -> None:
    for apprentice in IDS:
        card = sheet("10_call_to_close").card(apprentice)
        machine, faults = machine_of(card, call), faults_of(card, call)
        rows = {row.fault: row for row in taught_by("10_call_to_close")}
        actual = tuple(read_fault(fault) for fault in faults)
        for name in names_of(faults):
            assert rows[name].is_faulty(rows[name].shown(machine, actual)), (apprentice, name)


def test_no_wrong_complaint_contradicts_the_lesson_s_own_table() -> None:
    question: Any = sheet("10_call_to_close").question("suspects")
    reference: Any = next(one for one in references("10_call_to_close") if one.question == "suspects")
    for apprentice in IDS:
        card = sheet("10_call_to_close").card(apprentice)
        heard, right = heard_on(card), reference.right(card)
        for option in question.options_for(card):
            assert (option.key in behind(heard)) == (option.key in right)
            assert option.key not in near(heard)
            assert catalogue(option.key)


def test_a_reading_not_taught_yet_tells_nothing() -> None:
    dealt, other = (read_fault("run-winding-open"),), (read_fault("door-switch-open"),)
    assert told_apart("10_call_to_close", Machine(), dealt, other)
    assert not told_apart("06_heat_switches", Machine(), dealt, other)
