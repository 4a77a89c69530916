"""Lesson 08: the machines that are dealt, the tasks on round numbers, the drills, and the lesson's own tables."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from dryerbench.core.tables import table
from dryerbench.registry import TASKS, sheet
from dryerbench.topics.air_and_drying.drills import LONGEST
from dryerbench.topics.air_and_drying.models import BLOCKED_FROM, CODE
from dryerbench.topics.air_and_drying.sheet import CAUSES, CLEAN_CFM, RUN_MINUTES, record_of, trouble_of
from legtoleg.keys.air_and_drying import TRAPS

LESSON = "08_air_and_drying"
SOURCE = Path(__file__).resolve().parents[3] / "solutions" / f"{LESSON}.md"
CARDS = [sheet(LESSON).card(f"someone-{n}") for n in range(120)]


def flow(card) -> float:
    return TASKS["vent_flow"].value({"fpm": card.notes.hood_fpm})


def clean(card) -> float:
    return TASKS["clean_gauge"].value({"inches": card.clean_inches, "at_cfm": CLEAN_CFM, "cfm": flow(card)})


def test_golden_machine() -> None:
    card = sheet(LESSON).card("demo-01")
    assert (trouble_of(card).cause, trouble_of(card).strength, trouble_of(card).element_ohms) == (
        "open",
        1.0,
        (26.3, 26.9, 27.5),
    )
    assert (card.straight_ft, card.room_fahrenheit) == (17.0, 78.0)
    assert (card.elbows_90, card.elbows_45, card.edition, card.clean_inches) == (2, 1, "2009 and later", 1.08)


def test_machines_are_plausible_and_differ() -> None:
    assert set(Counter(trouble_of(card).cause for card in CARDS)) == set(CAUSES)
    assert len({(card.notes, card.elbows_90, card.edition) for card in CARDS}) > 110
    for card in CARDS:
        assert 35.0 < card.sound_minutes < 41.0
        assert 1.1 * card.sound_minutes < card.notes.dry_minutes < RUN_MINUTES - 10.0
        assert 40.0 < flow(card) < 190.0
        assert len(set(card.trap_keys)) == 6
        assert 1 <= len(set(card.trap_keys) & TRAPS) < 6


def test_every_cause_shows_in_what_was_noted() -> None:
    for card in CARDS:
        seen, cause = card.notes, trouble_of(card).cause
        assert (seen.limit_opened > 5) == (cause in ("vent", "filter"))
        record = record_of(trouble_of(card))
        opened = next((move.time for move in record.moves if move.switch == "thermostat"), record.dry_time)
        assert (float(record.moisture(opened / 60.0)[0]) > 0.2) == (cause == "cool")  # while the load is still wet
        assert (seen.thermostat_opened > 10) == (cause == "cool")
        assert (seen.gauge_inches > BLOCKED_FROM * clean(card)) == (cause == "vent")
        assert not 0.8 * BLOCKED_FROM < seen.gauge_inches / clean(card) < 2.0 * BLOCKED_FROM  # rounding decides nothing
        share = seen.amps / card.new_amps
        assert share == pytest.approx({"open": 0.667, "volts": 0.867}.get(cause, 1.0), abs=0.02)


def test_the_card_never_names_the_cause() -> None:
    for card in CARDS[:30]:
        for word in ("blocked", "clogged", "element", "208", "welded"):
            assert word not in repr(card)


def test_the_lesson_gives_the_code_lengths_of_the_table() -> None:
    text = SOURCE.read_text(encoding="utf-8")
    for edition, longest in LONGEST.items():
        assert table("duct-codes").row(code=CODE, edition=edition)["longest_ft"] == longest
        assert f"{edition} | {longest} ft |" in text
    for elbow, row in (("mitred_90", "| 90° | 5 ft |"), ("mitred_45", "| 45° | 2.5 ft |")):
        assert f"{table('duct-elbows').row(elbow=elbow)['code_deduction_ft']:g} ft" in row
        assert row in text
