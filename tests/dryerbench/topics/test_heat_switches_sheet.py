"""Lesson 06: the machines that are dealt, the tasks on round numbers, the drills, and the lesson's own table."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest

from dryerbench.air.thermistor import BetaThermistor
from dryerbench.air.thermostats import usual_switch
from dryerbench.core.temperatures import celsius
from dryerbench.course.bench_card import faults_of
from dryerbench.registry import sheet
from dryerbench.topics.heat_switches.sheet import CAUSES, CUP_CASES, cause_of, cup_case_of
from legtoleg.keys.heat_switches import BLOWN

LESSON = "06_heat_switches"
SOURCE = Path(__file__).resolve().parents[3] / "solutions" / f"{LESSON}.md"
CARDS = [sheet(LESSON).card(f"someone-{n}") for n in range(300)]


def test_golden_machine() -> None:
    card = sheet(LESSON).card("demo-01")
    assert (cup_case_of(card), card.water_fahrenheit, card.sensor_sheet_ohms) == ("blind_limit", 194.0, 11_600.0)
    assert (card.sensor_fahrenheit, card.sensor_reads) == (176.0, 6150.0)
    assert (card.drop_millivolts, card.heater_amps, card.cup_shows) == (990.0, 26.9, "0.2 Ω")


def test_machines_are_plausible_and_differ() -> None:
    assert (
        len({(card.drop_millivolts, card.sensor_sheet_ohms, card.heater_amps, faults_of(card)) for card in CARDS}) > 290
    )
    assert set(Counter(cause_of(card) for card in CARDS)) == set(CAUSES)
    assert set(Counter(cup_case_of(card) for card in CARDS)) == set(CUP_CASES)
    for card in CARDS:
        assert 23 < card.heater_amps < 29
        assert card.sensor_fahrenheit != round(card.sensor_reads)
        assert len(set(card.blown_keys)) == 6
        assert 1 <= len(set(card.blown_keys) & BLOWN) < 6
        assert faults_of(card)[0] == "cut-off-blown"


def test_the_cup_agrees_with_the_mark() -> None:
    for card in CARDS:
        part = usual_switch(card.cup_part)
        above = celsius(card.water_fahrenheit) > part.opens + part.tolerance
        below = celsius(card.water_fahrenheit) < part.opens - part.tolerance
        assert above == (cup_case_of(card) in ("stuck", "opened"))
        assert below != above
        assert (card.cup_shows == "OL") == (cup_case_of(card) in ("opened", "broken"))


def test_the_card_never_names_the_cause() -> None:
    for card in CARDS[:50]:
        for word in ("welded", "stuck", "grounded", "blocked", faults_of(card)[1]):
            assert word not in repr(card)


def test_the_table_in_the_lesson_is_the_curve() -> None:
    rows = re.findall(r"(?m)^\| (\d+) \| (\d+) \| (\d\.\d+) \|$", SOURCE.read_text(encoding="utf-8"))
    assert len(rows) == 10
    for degree, metric, factor in rows:
        assert celsius(float(degree)) == pytest.approx(float(metric), abs=0.01)
        assert float(factor) == pytest.approx(BetaThermistor().ohms(celsius(float(degree))) / 10_000.0, rel=5e-4)


def test_the_worked_factors_are_the_table() -> None:
    text = SOURCE.read_text(encoding="utf-8")
    for degree, factor in re.findall(r"(\d{3}): (0\.\d{4})", text):
        assert float(factor) == pytest.approx(BetaThermistor().ohms(celsius(float(degree))) / 10_000.0, rel=5e-4)
