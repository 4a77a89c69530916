"""The sheet of lesson 10: the call dealt to everybody, and what its card does not give away."""

from __future__ import annotations

from collections import Counter

import pytest

from dryerbench.course.bench_card import faults_of, machine_of
from dryerbench.diagnosis.service_calls import FOUND_DEAD
from dryerbench.registry import sheet
from dryerbench.topics.call_to_close.drills import DRILLS
from dryerbench.topics.call_to_close.sheet import LESSON, OFFERED, RULE_PERCENT
from legtoleg.keys.call_to_close import fault_of, part_of, quote_percent_of

PAPER = sheet(LESSON)
GOLDEN = ("run-winding-open", 243.0, 26.5, 19, 41, 60, 95, 680)
CARDS = [PAPER.card(f"someone-{n}") for n in range(300)]


def test_golden_call() -> None:
    card = PAPER.card("demo-01")
    assert (fault_of(card), card.supply_volts, card.sheet_ohms) == GOLDEN[:3]
    assert (card.drive_minutes, card.find_minutes, card.callout, card.rate, card.new_price) == GOLDEN[3:]


def test_calls_are_plausible_and_differ() -> None:
    assert len({(machine_of(card), faults_of(card), card.new_price) for card in CARDS}) == 300
    dealt = Counter(fault_of(card) for card in CARDS)
    assert set(dealt) == set(FOUND_DEAD)
    assert max(dealt.values()) < 3 * min(dealt.values())
    for card in CARDS:
        assert 200 <= card.new_price <= 1500
        assert abs(quote_percent_of(card) - RULE_PERCENT) > 5
    assert {quote_percent_of(card) > RULE_PERCENT for card in CARDS} == {True, False}


def test_the_card_gives_nothing_away_but_the_complaint() -> None:
    for card in CARDS[:60]:
        text = repr(card) + card._repr_html_()
        assert card.complaint in text
        assert fault_of(card) not in text
        assert part_of(card) not in text or part_of(card) in card.complaint


def test_the_fault_is_always_on_offer_and_fits_the_complaint() -> None:
    for card in CARDS:
        assert fault_of(card) in {option.key for option in PAPER.question("call_fault").options_for(card)}
        suspects = [option.key for option in PAPER.question("suspects").options_for(card)]
        assert fault_of(card) in suspects
        assert len(set(suspects)) == len(suspects) >= 4
        assert set(suspects) <= set(OFFERED)


@pytest.mark.parametrize("name", DRILLS)
def test_drills_ask_with_their_numbers(name: str) -> None:
    drill = DRILLS[name]
    for turn in range(1, 40):
        numbers = drill.numbers(turn)
        assert all(f"{value:g}" in drill.ask(numbers) for value in numbers.values())
