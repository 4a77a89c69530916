"""Lesson 05's machines: the golden one, plausible ones, each apprentice's own; options in an order of one's own."""

from __future__ import annotations

from dryerbench.bench.faults import read_fault
from dryerbench.course.bench_card import faults_of, machine_of
from dryerbench.electricity.leakage import leakage_limit
from dryerbench.electricity.ohms_law import parallel
from dryerbench.registry import sheet

LESSON = "05_path_to_case"
PAPER = sheet(LESSON)
CARDS = [PAPER.card(f"someone-{n}") for n in range(300)]


def test_golden_machine() -> None:
    card = PAPER.card("demo-01")
    assert faults_of(card) == ("element-2-grounded=0.41",)
    assert machine_of(card).element_ohms == (28.0, 27.6, 27.3)
    assert (card.supply_volts, card.own_ohms, card.shared_ohms) == (244.0, 20.6, 6.9)
    assert (card.kilowatts, card.damp_kohm) == (6.6, 37.9)


def test_machines_differ_and_every_element_gets_its_turn() -> None:
    assert len({(machine_of(card), faults_of(card)) for card in CARDS}) == 300
    assert {read_fault(faults_of(card)[0]).name for card in CARDS} == {f"element-{n}-grounded" for n in (1, 2, 3)}
    assert {card.damp_kohm < 30 for card in CARDS} == {True, False}


def test_the_second_job_is_a_coil_that_the_breaker_holds() -> None:
    for card in CARDS:
        whole = card.own_ohms + card.shared_ohms
        assert 25.9 < whole < 28.1
        assert 0.21 < card.own_ohms / whole < 0.79
        behind = card.own_ohms + parallel([whole, whole])
        amps = card.supply_volts / 2 / parallel([card.shared_ohms, behind])
        assert card.supply_volts / 2 / card.shared_ohms < amps < 30.0


def test_what_leaks_is_clearly_over_or_under_the_limit() -> None:
    over = 0
    for card in CARDS:
        ratio = card.supply_volts / 2 / card.damp_kohm / leakage_limit(card.kilowatts)
        assert ratio < 0.85 or ratio > 1.15
        over += ratio > 1
    assert 100 < over < 200


def test_the_card_shows_what_is_known_and_never_the_fault() -> None:
    card = PAPER.card("demo-01")
    for text in (f"{card.own_ohms:.1f} Ω", f"{card.kilowatts:.1f} kW", f"{card.damp_kohm:.1f} kΩ", "drum turns"):
        assert text in repr(card)
        assert text in card._repr_html_()
    assert "element-" not in repr(card) + card._repr_html_()
