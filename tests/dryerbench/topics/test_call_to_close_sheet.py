"""The sheet of lesson 10: the three calls dealt to everybody, and what the card does not give away."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest

from dryerbench.answers.tolerance import figures_band
from dryerbench.bench.acts import HANDS
from dryerbench.bench.faults import catalogue
from dryerbench.bench.placement import placement_of
from dryerbench.core.tables import table
from dryerbench.course.bench_card import faults_of, machine_of
from dryerbench.diagnosis.call_dealing import PLAIN, names_of
from dryerbench.diagnosis.machine_hand_over import dealt_from, hands_of
from dryerbench.family.shelf import machine_names
from dryerbench.registry import TASKS, sheet
from dryerbench.topics.call_to_close.drills import DRILLS
from dryerbench.topics.call_to_close.sheet import LESSON, RULE_PERCENT
from legtoleg.keys.call_to_close import names_on, quote_percent

PAPER: Any = sheet(LESSON)
CARDS: list[Any] = [PAPER.card(f"someone-{n}") for n in range(300)]


def test_each_card_has_a_plain_call_one_with_a_cause_and_one_to_hand_over() -> None:
    for card in CARDS:
        plain, cause = (names_on(card, call) for call in (1, 2))
        assert set(plain) <= {name for group in PLAIN for name in group} | {"missing-bond"}
        assert "blocked-vent" in cause or ("high-limit-stuck" in cause and any("grounded" in name for name in cause))
        assert ("cut-off-blown" in cause) == ("high-limit-stuck" in cause)
        assert {machine_of(card, call).cord for call in (1, 2)} == {"four-wire"}
        assert {machine_of(card, call).stands for call in (1, 2)} == {None}
        other = machine_of(card, 3).stands
        assert other is not None
        assert faults_of(card, 3)[0] in dealt_from(other.arrangement)


def test_call_3_is_on_every_machine_but_the_lessons_own_and_no_pair_of_hands_is_rare() -> None:
    made = [machine_of(card, 3).stands.arrangement for card in CARDS]
    assert {one.name.lower() for one in made} == set(machine_names()) - {"schoolroom"}
    hands = Counter(hands_of(one)[faults_of(card, 3)[0]] for one, card in zip(made, CARDS, strict=True))
    assert min(hands[hand] for hand in HANDS) > 30


def test_the_tech_sheet_of_call_3_says_its_parts_and_wires_and_nothing_of_the_fault() -> None:
    for card in CARDS[:24]:
        made = machine_of(card, 3).stands.arrangement
        text = "\n".join(card.tech_sheet)
        marks = placement_of(machine_of(card, 3)).marks
        assert all(f"{wire.a} to {wire.b}, {mark}\n" in text for wire, mark in zip(made.wires, marks, strict=True))
        assert all(f"{coil.ohms:g} Ω" in repr(card) for coil in made.coils)
        assert f"{made.cord} cord" in repr(card)
        faults = set(faults_of(card, 3))
        assert not any(name.partition("@")[0] in text for name in faults)
        same = [one for one in CARDS if machine_of(one, 3).stands.arrangement is made]
        assert len({faults_of(one, 3) for one in same}) > 1


def test_now_and_then_nothing_is_wrong_and_now_and_then_two_things_are() -> None:
    counts = Counter(len(faults_of(card)) for card in CARDS)
    assert 10 < counts[0] < 60
    assert 10 < counts[2] < 60
    dealt = Counter(name for card in CARDS for name in names_of(faults_of(card)))
    elements = sum(count for name, count in dealt.items() if name.startswith("element"))
    assert elements < 0.5 * sum(dealt.values())
    assert len(dealt) == len([name for group in PLAIN for name in group]) + 1


def test_calls_are_plausible_and_differ() -> None:
    assert len({(machine_of(card), faults_of(card), card.new_price) for card in CARDS}) == 300
    for card in CARDS:
        assert 200 <= card.new_price <= 2000
        assert abs(quote_percent(card) - RULE_PERCENT) > 5
    assert {quote_percent(card) > RULE_PERCENT for card in CARDS} == {True, False}


def test_the_card_gives_nothing_away_but_the_customer_s_words() -> None:
    words = {row["words"] for row in table("customer-words").rows}
    parts = {row["title"] for row in table("faults").rows}
    for card in CARDS[:60]:
        text = repr(card) + card._repr_html_()
        assert all(said in words and said in repr(card) for said in card.words)
        assert not any(title in text for title in parts)
        assert not any(name in text for call in (1, 2, 3) for name in names_on(card, call))


def test_customers_name_no_part() -> None:
    parts = {str(catalogue(row["fault"])["part"]) for row in table("heard-as").rows}
    parts |= {"element", "thermostat", "limit"}
    for row in table("customer-words").rows:
        assert not any(part in row["words"].lower() for part in parts)


@pytest.mark.parametrize("name", ["suspects", "call_fault", "advice", "weekend", "job_record"])
def test_options_differ_between_apprentices(name: str) -> None:
    question = PAPER.question(name)
    assert len({tuple(one.key for one in question.lettered(card).values()) for card in CARDS}) > 10
    for card in CARDS[:40]:
        assert len(question.lettered(card)) == len(question.options_for(card))


def test_models_by_hand() -> None:
    assert TASKS["call_minutes"].value({"drive": 15, "find": 40, "fix": 25}) == 95
    numbers = {"minutes": 95.0, "rate": 80, "trip_charge": 70, "parts": 18.0, "new_price": 650}
    assert TASKS["quote_share"].value(numbers) == pytest.approx(33.0256, abs=1e-3)


@pytest.mark.parametrize("name", DRILLS)
def test_drills_ask_with_their_numbers_and_slips_are_off(name: str) -> None:
    drill = DRILLS[name]
    for turn in range(1, 40):
        numbers = drill.numbers(turn)
        assert all(f"{value:g}" in drill.ask(numbers) for value in numbers.values())
        right = figures_band(TASKS[name].value(numbers), drill.figures)
        assert all(value not in right for value in TASKS[name].slip_values(numbers).values())
