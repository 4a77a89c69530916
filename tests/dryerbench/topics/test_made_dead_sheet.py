"""The sheet of lesson 01: the machine dealt to everybody, its questions, its practice and its models."""

from __future__ import annotations

from dryerbench.course.bench_card import faults_of, machine_of
from dryerbench.electricity.shock import body_milliamps
from dryerbench.registry import sheet
from dryerbench.topics.made_dead.sheet import JOBS, KITS, LESSON
from legtoleg.keys.made_dead import LICENSED, SOUND_KITS

CARDS = [sheet(LESSON).card(f"someone-{n}") for n in range(200)]


def test_golden_machine() -> None:
    card = sheet(LESSON).card("demo-01")
    assert (card.leg_volts, card.person_ohms) == (120.0, 6100)
    assert (card.fault_amps, card.bond_ohms, card.plug_in_sight) == (70.0, 0.12, True)
    assert card.kits == ("bridged", "cracked", "iii-1000", "iv-600", "low-meter", "unmarked")
    assert (card.source_before, card.tested, card.source_after) == (119.5, (78.2, 119.3, 37.7, 119.3, 37.7, 0.0), 119.9)


def test_machines_are_plausible_and_differ() -> None:
    assert len({(machine_of(card), card.person_ohms, card.tested) for card in CARDS}) == 200
    for card in CARDS:
        assert 1.0 < body_milliamps(card.leg_volts, card.person_ohms) < 300.0
        assert 4.0 < card.fault_amps * card.bond_ohms < 30.0
        assert card.fault_amps > 30.0, "the breaker opens"
        assert not faults_of(card)
    assert {card.plug_in_sight for card in CARDS} == {True, False}


def test_the_tests_dealt_are_dead_live_or_unproved() -> None:
    live = [card for card in CARDS if max(card.tested) > 100.0]
    zeros = [card for card in CARDS if max(card.tested) == 0.0]
    unproved = [card for card in zeros if card.source_after == 0.0]
    assert len(live) + len(zeros) == len(CARDS)
    assert min(len(live), len(unproved), len(zeros) - len(unproved)) > 20
    for card in live:
        assert sum(abs(volts - card.leg_volts) < 4 for volts in card.tested[3:5]) == 1, "one leg stays up"


def test_what_is_dealt_has_right_and_wrong_in_it() -> None:
    for card in CARDS:
        assert len(set(card.kits)) == len(set(card.jobs)) == 6
        assert set(card.kits) <= set(KITS)
        assert set(card.jobs) <= set(JOBS)
        assert 1 <= len(set(card.kits) & SOUND_KITS) < 6
        assert 1 <= len(set(card.jobs) & LICENSED) < 6


def test_the_card_shows_every_number() -> None:
    for card in CARDS[:20]:
        for number in (card.leg_volts, card.person_ohms, card.fault_amps, card.bond_ohms, card.source_before):
            assert f"{number:g}" in repr(card)
        assert ("out of your sight" in repr(card)) is not card.plug_in_sight
