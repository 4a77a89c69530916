"""Composing: every critical topic by a safety question, the bench, twelve to fifteen, and more of what was missed."""

from __future__ import annotations

from collections import Counter

import pytest

from dryerbench.registry import SHEETS, sheet
from legtoleg.refresher.record.safety_topics import course_topics
from legtoleg.refresher.testing.composition import FEWEST, MINUTES, MOST, ComposingError, compose
from legtoleg.refresher.testing.question_pool import needs_card, pool, topic_of_question, words

TOPICS = course_topics()
CRITICAL = [name for name, topic in TOPICS.items() if topic.critical]
ISSUES = [f"ada-01.r{number:010x}" for number in range(120)]


def test_every_question_of_the_course_has_its_topic() -> None:
    asked = {question.name for paper in SHEETS.values() for question in paper.questions}
    assert set(topic_of_question()) == asked
    assert set(topic_of_question().values()) <= set(TOPICS)


@pytest.mark.parametrize("missed", [{}, {"fault_to_case": 4.0, "clamp_off": 1.0}, {"cleaning": 2.0, "cold_test": 2.0}])
def test_any_test_is_whole(missed: dict[str, float]) -> None:
    for issue in ISSUES:
        items = compose(issue, TOPICS, missed)
        assert FEWEST <= len(items) <= MOST
        assert len({item.name for item in items}) == len(items)
        assert 14 <= sum(item.minutes for item in items) <= MINUTES
        assert any(item.on_bench for item in items)
        assert {item.topic for item in items if item.question.safety} >= set(CRITICAL)
        assert {"first_aid", "vent_flow"} <= {item.name for item in items}, "release and 911; a number on the vent"
        assert [item.name for item in items] == [name for name in pool() if name in {one.name for one in items}]


def test_tests_differ_and_one_is_composed_alike_anywhere() -> None:
    composed = [tuple(item.name for item in compose(issue, TOPICS, {})) for issue in ISSUES]
    assert len(set(composed)) > 100
    assert composed[3] == tuple(item.name for item in compose(ISSUES[3], TOPICS, {}))


def test_first_aid_is_in_every_test_and_finds_somebody_in_one_of_seven_ways() -> None:
    """One question, as none may be left out; how the person is found, and so what comes first, is dealt by the test."""
    cards = [sheet("01_made_dead").card(issue) for issue in ISSUES]
    found = Counter(line.value for card in cards for line in card.lines if line.label.startswith("Somebody at work"))
    assert len(found) == 7
    assert max(found.values()) < len(ISSUES) / 3
    (asked,) = (one for one in pool().values() if one.topic == "first-aid")
    assert asked.question.safety
    assert needs_card(asked)


def test_what_was_missed_is_asked_again() -> None:
    for issue in ISSUES[:40]:
        names = {item.name for item in compose(issue, TOPICS, {"lint_traps": 4.0, "heater_ohms": 2.0}, {"lint_traps"})}
        assert {"lint_traps", "heater_ohms"} <= names
        path = [item for item in compose(issue, TOPICS, {"fault_to_case": 4.0}) if item.topic == "path-to-case"]
        assert len(path) >= 2


def test_not_the_same_again_where_there_is_a_choice() -> None:
    last = {"control_off_volts", "frame_strap", "strapped_case_volts"}
    for issue in ISSUES[:40]:
        assert "volts_unbonded" in {item.name for item in compose(issue, TOPICS, {}, last)}


def test_a_topic_without_a_question_is_said() -> None:
    from dataclasses import replace

    odd = {**TOPICS, "roofs": replace(TOPICS["isolation"], topic="roofs")}
    with pytest.raises(ComposingError, match="No question is there for the safety-critical topic roofs"):
        compose("ada-01.r1", odd, {})


@pytest.mark.parametrize("name", list(pool()))
def test_every_item_has_words_that_stand_by_themselves(name: str) -> None:
    before, after = words(pool()[name])
    text = f"{before} {after}".lower()
    assert not any(lean in text for lean in ("your answer to", "first job", "as well.", "from question"))
    assert "```" not in text
    assert needs_card(pool()[name]) or "card" not in text
    assert bool(after) == pool()[name].on_bench
