"""Lesson 05's answers: every slip named on 100 machines, the table judged row by row, unsafe work held."""

from __future__ import annotations

from typing import Any

import pytest

from dryerbench.bench.faults import read_fault
from dryerbench.bench.machine import Machine
from dryerbench.bench.situation import settle
from dryerbench.bench.states import State
from dryerbench.course.bench_card import faults_of, machine_of, open_bench
from dryerbench.registry import sheet
from dryerbench.topics.path_to_case.sheet import ROWS, to_case_of, touching_of
from legtoleg.keys.answer_key import references
from legtoleg.keys.dead_readings import true_ohms
from legtoleg.keys.path_to_case import PULLED, amps_to_case
from legtoleg.keys.singled_out import singled_out
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome

LESSON = "05_path_to_case"
PAPER = sheet(LESSON)
IDS = [f"someone-{n}" for n in range(100)]
DEAD = ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off")


def mark(apprentice: str, name: str, found: Found) -> Outcome:
    return mark_lesson(LESSON, apprentice, {name: found})[name]


def letters(apprentice: str, name: str, *keys: str) -> str:
    lettered = PAPER.question(name).lettered(PAPER.card(apprentice))
    return "".join(letter for letter, option in lettered.items() if option.key in keys)


def acts(bench: Any) -> tuple[dict[str, Any], ...]:
    return tuple({"act": act["act"], "with": act["with"]} for act in bench.trail)


def worked_bench(apprentice: str, pairs: list[tuple[str, str]]) -> Any:
    bench = open_bench(PAPER.card(apprentice))
    for act in DEAD:
        bench.do(act)
    for wire in PULLED:
        bench.do("pull_wire", wire=wire)
    for a, b in pairs:
        bench.ohms(a, b)
    return bench


ALL = [tuple(row.key.split("-")) for row in ROWS]


def table(apprentice: str, **changed: Found) -> Found:
    card = PAPER.card(apprentice)
    rows = {}
    for row in ROWS:
        ohms = true_ohms(card, *row.key.split("-"), PULLED)
        reading = Found("over_limit", typed="OL") if ohms > 4e7 else Found("quantity", ohms, "Ω", 3, "x")
        rows[row.key] = changed.get(row.key.replace("-", "_"), reading)
    return Found("readings", rows=rows)


def test_slips_of_the_table_are_named_for_everybody() -> None:
    for apprentice in IDS:
        card = PAPER.card(apprentice)
        assert mark(apprentice, "case_readings", table(apprentice)).note == "right"
        hidden = mark(apprentice, "case_readings", table(apprentice, T0_case=Found("over_limit", typed="OL")))
        assert (hidden.note, hidden.points) == ("probe_on_paint", 4.5)
        number = mark(apprentice, "case_readings", table(apprentice, H8_case=Found("quantity", 9.0, "Ω", 2, "x")))
        assert number.note == "wires_still_on"
        together = {f"T{n}_T0": Found("quantity", true_ohms(card, f"T{n}", "T0"), "Ω", 3, "x") for n in (1, 2, 3)}
        assert mark(apprentice, "case_readings", table(apprentice, **together)).note == "wires_still_on"
        kilo = Found("quantity", true_ohms(card, "T1", "T0", PULLED), "kΩ", 3, "x")
        assert mark(apprentice, "case_readings", table(apprentice, T1_T0=kilo)).note == "kilo"


def test_the_fault_is_singled_out_by_its_readings_for_everybody() -> None:
    for apprentice in IDS:
        card = PAPER.card(apprentice)
        name = read_fault(faults_of(card)[0]).name
        bench = worked_bench(apprentice, ALL)
        assert singled_out(bench, name), apprentice
        found = Found("fault", letters=letters(apprentice, "fault_to_case", name), acts=acts(bench))
        outcome = mark(apprentice, "fault_to_case", found)
        assert (outcome.note, outcome.points, outcome.safety) == ("right", 4, "clear")


@pytest.mark.parametrize("apprentice", IDS[:5])
def test_with_the_control_open_the_bench_agrees_with_the_formula(apprentice: str) -> None:
    """The circuit, solved as it tumbles with the control open: the far piece makes (V/2)²/R less the wire's loss."""
    card = PAPER.card(apprentice)
    fault = read_fault(faults_of(card)[0])
    now, _ = settle(machine_of(card), (fault,), State(running=True))
    part = now.circuit.part(f"element {fault.name[8]} rest")
    watts = abs(now.live.amps(part.name)) ** 2 * part.value
    ideal = (card.supply_volts / 2) ** 2 / part.value
    assert 0.9 * ideal < watts < ideal
    assert now.state.breaker_on


def test_what_ends_the_current_to_the_case_is_what_the_circuit_does() -> None:
    """The circuit of question 6, solved: tripped, no current at all for want of leg 2 or of a way home, or heating."""
    seen = set()
    for apprentice in IDS:
        card = PAPER.card(apprentice)
        job, whole = touching_of(card), card.own_ohms + card.shared_ohms
        touch = f"element-1-grounded={1 - job.far_ohms / whole:.4f}"
        faults = [read_fault(one) for one in (touch, *(() if job.bonded else ("missing-bond",)))]
        machine = Machine(element_ohms=(whole, whole, whole), leg_volts=card.supply_volts / 2)
        now, happened = settle(machine, faults, State(running=job.drum_turns))
        amps = abs(now.live.amps("element 1 rest"))
        case = abs(now.live["case", "earth"].volts)
        shown = (
            "breaker"
            if "the breaker trips" in happened
            else "nothing"
            if amps > 1.0
            else "motor"
            if case < 10.0
            else "bond"
        )
        reference = next(one for one in references(LESSON) if one.question == "will_it_stop")
        assert reference.right(card) == {shown}, (apprentice, job)
        if shown == "nothing":
            assert 0.85 < amps / (card.supply_volts / 2 / job.far_ohms) < 1.0
            assert amps < amps_to_case(card) < 30.0
        seen.add(shown)
    assert seen == {"breaker", "nothing", "motor", "bond"}


@pytest.mark.parametrize(
    ("reads", "asks_for"), [("9.4 Ω", "replace"), ("47 kΩ", "find"), ("OL, and OL at 500 V too", "close")]
)
def test_metal_is_replaced_a_damp_path_found_and_no_path_left_alone(reads: str, asks_for: str) -> None:
    reference = next(one for one in references(LESSON) if one.question == "number_to_case")
    everybody = [PAPER.card(f"someone-{number}") for number in range(60)]
    cards = [card for card in everybody if to_case_of(card) == reads]
    assert len(cards) > 8
    assert {key for card in cards for key in reference.right(card)} == {asks_for}
