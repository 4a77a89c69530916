"""Lesson 07's sheet: one fault read live, another on the bench, and options in everybody's own order."""

from __future__ import annotations

from collections import Counter

from dryerbench.course.bench_card import faults_of, machine_of
from dryerbench.registry import sheet
from dryerbench.topics.tracing_the_circuit.heater_line import CONTACTS, LINE, in_doubt, middle
from dryerbench.topics.tracing_the_circuit.sheet import LESSON, READ_DEAD, read_dead_of

PAPER = sheet(LESSON)
CARDS = [PAPER.card(f"someone-{n}") for n in range(120)]
GOLDEN = (242.0, 24.0, 38.0, ("cycling-open",), "high-limit-open", 7, 2)


def test_golden_card() -> None:
    card = PAPER.card("demo-01")
    found = (card.supply_volts, card.line_amps, card.contact_milliohms, faults_of(card), card.planned_open, card.places)
    assert (*found, card.reading_minutes) == GOLDEN


def test_machines_differ_and_every_fault_is_dealt() -> None:
    assert len({(machine_of(card).element_ohms, machine_of(card).leg_volts, card.places) for card in CARDS}) > 110
    assert set(Counter(faults_of(card)[0] for card in CARDS)) == set(CONTACTS) - {"motor-heat-contact-open"}
    for card in CARDS:
        assert card.planned_open not in faults_of(card)
        assert card.planned_open in CONTACTS


def test_the_live_readings_are_of_another_fault_than_the_bench() -> None:
    after = {b: fault for fault, (_, _, b) in CONTACTS.items()}
    traced = Counter()
    for card in CARDS:
        volts = {where.removeprefix("L2 to "): value for where, _, value in card.live}
        dark = [point for point, value in volts.items() if value < 2.0]
        assert volts["L1"] > 220.0
        assert all(value < 2.0 or value > 220.0 for value in volts.values())
        found = after[dark[0]] if dark else "motor-heat-contact-open"
        assert found not in (*faults_of(card), card.planned_open)
        traced[found] += 1
    assert set(traced) == set(CONTACTS)


def test_the_card_shows_its_numbers_and_not_the_fault_of_the_bench() -> None:
    for card in CARDS[:40]:
        text = repr(card)
        assert f"{card.supply_volts:g} V" in text
        assert all(shown in text for _, shown, _ in card.live)
        own = "\n".join(line for line in text.splitlines() if "second dryer" not in line)
        assert CONTACTS[faults_of(card)[0]][0] not in own


def test_what_is_still_in_doubt_follows_from_what_was_read() -> None:
    assert in_doubt(()) == LINE
    assert [in_doubt(readings) for readings in READ_DEAD] == [
        LINE, ("L1", "H1", "H2", "H3", "H4"), ("H4", "H5", "H6", "H7", "H8"), ("H7", "H8"), (),
    ]  # fmt: skip
    for doubt in map(in_doubt, READ_DEAD):
        places = len(doubt) - 1
        if places > 1:
            assert places % 2 == 0
            assert doubt.index(middle(doubt[0], doubt[-1])) == places // 2


def test_the_card_says_what_was_read_and_not_where_the_open_place_is() -> None:
    texts = {line.value for card in CARDS for line in card.lines if "question 7" in line.label}
    assert len(texts) == len(READ_DEAD)
    assert "L1 to H8 OL, L1 to H4 0.3 Ω" in texts
    for card in CARDS:
        offered = [option.text for option in PAPER.question("next_reading").options_for(card)]
        assert len(set(offered)) == 5
        assert {a for a, _, _ in read_dead_of(card)} <= {"L1", "H4", "H7"}
