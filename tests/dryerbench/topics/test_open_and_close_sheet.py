"""Lesson 09's sheet: the machine under repair, its tally and its clamp, and options in everybody's own order."""

from __future__ import annotations

from collections import Counter

from dryerbench.bench.faults import fits, read_fault
from dryerbench.course.bench_card import faults_of, machine_of
from dryerbench.registry import sheet
from dryerbench.topics.open_and_close.models import predicted
from dryerbench.topics.open_and_close.sheet import CUPS, LESSON

PAPER = sheet(LESSON)
GOLDEN = (
    (26.0, 1, "coil 1 touches the cabinet"),
    (("element-1-grounded=0.3",), ((11, 9), (7, 7), (2, 2))),
)
LEG_VOLTS = 122.0
CARDS = [PAPER.card(f"someone-{n}") for n in range(200)]


def test_golden_card() -> None:
    card = PAPER.card("demo-01")
    assert (card.sheet_ohms, card.bad_element, card.found) == GOLDEN[0]
    assert (faults_of(card), card.tally) == GOLDEN[1]
    assert machine_of(card).leg_volts == LEG_VOLTS


def test_machines_differ_and_every_kind_of_repair_is_dealt() -> None:
    assert len({(machine_of(card).element_ohms, machine_of(card).leg_volts) for card in CARDS}) > 150
    kinds = Counter((faults_of(card)[0].split("-")[2].split("=")[0], len(faults_of(card))) for card in CARDS)
    assert len(kinds) == 4
    assert min(kinds.values()) > 25
    for card in CARDS:
        assert all(fits(read_fault(fault), machine_of(card)) for fault in faults_of(card))
        assert all(abs(ohms - card.sheet_ohms) <= 0.5 + 1e-9 for ohms in machine_of(card).element_ohms)


def test_one_cup_alone_is_short() -> None:
    short = Counter()
    for card in CARDS:
        left = {cup: out - back for cup, (out, back) in zip(CUPS, card.tally, strict=True) if out != back}
        assert len(left) == 1
        assert set(left.values()) <= {1, 2}
        short.update(left.keys())
    assert min(short[cup] for cup in CUPS) > 40


def test_the_clamp_shows_all_two_thirds_or_next_to_nothing() -> None:
    shares = [card.clamp_amps / predicted(card.loaded_volts, card.sheet_ohms) for card in CARDS]
    found = Counter(round(share * 3) for share in shares)
    assert set(found) == {0, 2, 3}
    assert min(found.values()) > 40
    assert all(abs(share - round(share * 3) / 3) < 0.05 for share in shares)


def test_the_card_shows_its_numbers_and_not_the_missing_bond() -> None:
    for card in CARDS[:40]:
        text = repr(card)
        assert f"{card.sheet_ohms:.1f} Ω" in text
        assert f"{card.loaded_volts:.1f} V" in text
        assert card.clamp_shown in text
        assert "bond" not in text
        assert all(f"{out} out, {back} back" in text for out, back in card.tally)
