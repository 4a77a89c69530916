"""Lesson 04's answers: every slip named on 100 machines, the table judged row by row, volts that stay held."""

from __future__ import annotations

import math
from typing import Any

import pytest

from dryerbench.bench.faults import read_fault
from dryerbench.bench.meter import Meter
from dryerbench.bench.worksite import machine_on
from dryerbench.circuits.solver import Pair
from dryerbench.course.bench_card import faults_of, open_bench
from dryerbench.registry import sheet
from dryerbench.topics.trusting_the_meter.sheet import LEADS, ROWS, read_twice
from legtoleg.keys.answer_key import references
from legtoleg.keys.dead_readings import true_ohms
from legtoleg.keys.singled_out import singled_out
from legtoleg.keys.trusting_the_meter import PULLED
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome

LESSON = "04_trusting_the_meter"
PAPER = sheet(LESSON)
IDS = [f"someone-{n}" for n in range(100)]
ELEMENTS = [("T1", "T0"), ("T2", "T0"), ("T3", "T0")]


def mark(apprentice: str, name: str, found: Found) -> Outcome:
    return mark_lesson(LESSON, apprentice, {name: found})[name]


def letters(apprentice: str, name: str, *keys: str) -> str:
    lettered = PAPER.question(name).lettered(PAPER.card(apprentice))
    return "".join(letter for letter, option in lettered.items() if option.key in keys)


def worked_bench(apprentice: str, pairs: list[tuple[str, str]], *acts: str) -> Any:
    bench = open_bench(PAPER.card(apprentice))
    for act in acts or ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off"):
        bench.do(act)
    for wire in PULLED:
        bench.do("pull_wire", wire=wire)
    for a, b in pairs:
        bench.ohms(a, b)
    return bench


def named(apprentice: str, key: str, bench: Any) -> Outcome:
    acts = tuple({"act": act["act"], "with": act["with"]} for act in bench.trail)
    found = Found("fault", letters=letters(apprentice, "behind_the_beep", key), acts=acts)
    return mark(apprentice, "behind_the_beep", found)


def test_the_beeper_of_the_bench_sounds_where_the_answer_says() -> None:
    """The right letters are the parts under the mark, by the numbers in the options themselves."""
    for apprentice in IDS[:20]:
        card = PAPER.card(apprentice)
        ohms = {"sound": card.shown_ohms, "bridged": card.shown_ohms / 2, "grounded": card.shown_ohms / 3,
                "limit": 0.1, "worn": card.worn_ohms, "damp": card.path_mohm * 1e5, "open": 1e9}  # fmt: skip
        bench = worked_bench(apprentice, [])
        below = {key for key, value in ohms.items() if value < bench.meter.beeps_below}
        reference = next(one for one in references(LESSON) if one.question == "beeper_sounds")
        offered = {option.key for option in PAPER.question("beeper_sounds").options_for(card)}
        assert reference.right(card) == below & offered
        assert all(bench.continuity(a, b).beeps for a, b in ELEMENTS), "it sounds at the bridged one too"


def table(apprentice: str, **changed: Found) -> Found:
    card = PAPER.card(apprentice)
    rows = {}
    for row in ROWS:
        ohms = 0.2 if row.key == LEADS else true_ohms(card, *row.key.split("-"), PULLED)
        reading = Found("over_limit", typed="OL") if ohms > 4e7 else Found("quantity", ohms, "Ω", 3, "x")
        rows[row.key] = changed.get(row.key.replace("-", "_"), reading)
    return Found("readings", rows=rows)


def test_slips_of_the_table_are_named_for_everybody() -> None:
    over = Found("over_limit", typed="OL")
    for apprentice in IDS:
        card = PAPER.card(apprentice)
        assert mark(apprentice, "bench_table", table(apprentice)).note == "right"
        assert mark(apprentice, "bench_table", table(apprentice, H7_H8=over)).note == "ol_where_a_number_is"
        zero = Found("quantity", 0.0, "Ω", 1, "0 Ω")
        assert mark(apprentice, "bench_table", table(apprentice, T0_case=zero)).note == "zero_for_ol"
        together = {f"{a}_{b}": Found("quantity", true_ohms(card, a, b), "Ω", 3, "x") for a, b in ELEMENTS}
        assert mark(apprentice, "bench_table", table(apprentice, **together)).note == "wires_still_on"


def test_every_lead_null_that_the_bench_stores_counts() -> None:
    bench = worked_bench(IDS[0], [])
    stored = bench.meter.lead_null(machine_on(bench).name)
    found = table(IDS[0], leads=Found("quantity", stored, "Ω", 1, "x"))
    assert mark(IDS[0], "bench_table", found).note == "right"
    wild = table(IDS[0], leads=Found("quantity", 1.5, "Ω", 2, "x"))
    assert mark(IDS[0], "bench_table", wild).points == 3.5


def test_the_fault_is_singled_out_by_numbers_for_everybody() -> None:
    for apprentice in IDS:
        name = read_fault(faults_of(PAPER.card(apprentice))[0]).name
        bench = worked_bench(apprentice, [*ELEMENTS, ("T0", "case")])
        assert singled_out(bench, name), apprentice
        outcome = named(apprentice, name, bench)
        assert (outcome.note, outcome.points) == ("right", 4)


def test_the_phantom_falls_as_volts_behind_a_capacitance_do_and_the_others_stay() -> None:
    """Behind some nanofarads, as long runs beside a live wire have, the meter's own divider makes what is dealt."""
    meter = Meter()
    reference = next(one for one in references(LESSON) if one.question == "which_phantom")
    for apprentice in IDS:
        card = PAPER.card(apprentice)
        (stray,) = reference.right(card)
        share = card.loaded_volts / card.phantom_volts
        farads = share / meter.low_input_ohms / (math.tau * 60.0)
        assert 1e-9 < farads < 15e-9
        behind = 1.0 / (1j * math.tau * 60.0 * farads)
        for key, (usual, loaded) in read_twice(card).items():
            source = Pair(complex(usual), behind if key == stray else 1.0 + 0j)
            ratio = meter.loaded_volts(source, "low-impedance") / meter.loaded_volts(source, "volts")
            assert loaded == pytest.approx(ratio * usual, rel=0.1, abs=0.05 if key == stray else 1.3), (apprentice, key)
