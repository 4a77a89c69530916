"""Lesson 04's machines: the golden one, plausible ones, each apprentice's own; options in an order of one's own."""

from __future__ import annotations

from dryerbench.bench.faults import read_fault
from dryerbench.bench.meter import Meter
from dryerbench.course.bench_card import faults_of, machine_of
from dryerbench.registry import sheet

LESSON = "04_trusting_the_meter"
PAPER = sheet(LESSON)
CARDS = [PAPER.card(f"someone-{n}") for n in range(300)]


def test_golden_machine() -> None:
    card = PAPER.card("demo-01")
    assert faults_of(card) == ("element-3-shorted=0.37",)
    assert machine_of(card).element_ohms == (27.0, 26.6, 27.4)
    assert (card.shown_ohms, card.shown_volts, card.coarse_ohms, card.leads_in_ohms, card.tips_ohms) == (
        28.0,
        245.0,
        25.0,
        27.3,
        0.4,
    )
    assert (card.leg_volts, card.path_mohm, card.phantom_volts, card.loaded_volts, card.still_volts) == (
        122.7,
        2.0,
        42.2,
        0.4,
        122.0,
    )


def test_machines_differ_and_every_element_gets_its_turn() -> None:
    assert len({(machine_of(card), faults_of(card)) for card in CARDS}) == 300
    assert {read_fault(faults_of(card)[0]).name for card in CARDS} == {f"element-{n}-shorted" for n in (1, 2, 3)}


def test_numbers_are_plausible() -> None:
    mark = Meter().beeps_below
    for card in CARDS:
        bridged = machine_of(card).element_ohms[0] * (1 - read_fault(faults_of(card)[0]).strength)
        assert 10.0 < bridged < 20.0 < card.shown_ohms < mark < card.worn_ohms
        assert 25.9 < card.leads_in_ohms - card.tips_ohms < 28.6
        assert card.loaded_volts < 0.1 * card.phantom_volts < 10.0
        live = 113.0 < card.still_volts < card.leg_volts == card.usual_volts
        assert live or 0.0 < card.still_volts < 0.5 < card.usual_volts < 80.0
        assert card.path_mohm * 1e5 > 1000 * mark


def test_half_of_the_volts_behind_an_open_breaker_are_phantoms() -> None:
    assert 100 < sum(card.still_volts < 1.0 for card in CARDS) < 200


def test_the_card_shows_what_is_known_and_never_the_fault() -> None:
    card = PAPER.card("demo-01")
    for text in (f"{card.shown_ohms:.1f} Ω", f"{card.path_mohm:.1f} MΩ", f"{card.still_volts:.1f} V"):
        assert text in repr(card)
        assert text in card._repr_html_()
    assert "shorted" not in repr(card) + card._repr_html_()
