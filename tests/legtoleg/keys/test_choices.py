"""Choices teach: no right option is told by length, by always being right, or by how many are right."""

from __future__ import annotations

from collections import Counter
from functools import cache
from statistics import mean
from typing import Any

import pytest

from dryerbench.course.questions import Choice, Choices, FaultQuestion, Lettered
from dryerbench.registry import SHEETS, SLIPS, sheet
from legtoleg.keys.answer_key import references

IDS = [f"id-{n}" for n in range(200)]
SLACK = 0.16
"""How far above chance the longest or the shortest option may be right: two standard deviations, and a little."""
NAMES = ("body_effect", "receptacle_fault", "suspects", "call_fault", "second_suspects")
"""Questions whose options are names of faults or rows of a table: they are as long as they are."""
ASKED = [(lesson, question) for lesson, paper in SHEETS.items() for question in paper.questions
         if isinstance(question, Choice | Choices | FaultQuestion)]  # fmt: skip
NAMED = pytest.mark.parametrize(("lesson", "question"), ASKED, ids=[question.name for _, question in ASKED])


@cache
def dealt(lesson: str, name: str) -> list[tuple[dict[str, str], frozenset[str]]]:
    """Return what is offered (text by key) and the right keys on the card of each id."""
    question = sheet(lesson).question(name)
    reference: Any = next(one for one in references(lesson) if one.question == name)
    assert isinstance(question, Lettered)
    cards = [sheet(lesson).card(apprentice) for apprentice in IDS]
    return [({option.key: option.text for option in question.options_for(card)}, frozenset(reference.right(card)))
            for card in cards]  # fmt: skip


def share(found: list[tuple[dict[str, str], frozenset[str]]], sign: int) -> float:
    """Return how often the longest (``sign`` 1) or shortest (-1) option is right; several share their luck."""
    hits = []
    for texts, right in found:
        most = max(sign * len(text) for text in texts.values())
        there = [key for key, text in texts.items() if sign * len(text) == most]
        hits.append(sum(key in right for key in there) / len(there))
    return mean(hits)


@NAMED
def test_neither_the_longest_nor_the_shortest_is_right_more_often_than_chance(lesson: str, question: Lettered) -> None:
    found = dealt(lesson, question.name)
    chance = mean(len(right) / len(texts) for texts, right in found)
    assert share(found, 1) <= chance + SLACK
    assert share(found, -1) <= chance + SLACK


@NAMED
def test_right_and_wrong_options_have_like_counts_of_words(lesson: str, question: Lettered) -> None:
    ratios = []
    for texts, right in dealt(lesson, question.name):
        words = {key: len(text.split()) for key, text in texts.items()}
        ratios.append(mean(words[key] for key in right) / mean(words[key] for key in words if key not in right))
    assert 0.7 <= mean(ratios) <= 1.4
    if question.name not in NAMES:
        assert min(ratios) > 0.6
        assert max(ratios) < 1.75


@NAMED
def test_the_machine_deals_which_is_right(lesson: str, question: Lettered) -> None:
    counts = Counter(key for _, right in dealt(lesson, question.name) for key in right)
    assert len(counts) > 1
    assert max(counts.values()) <= 0.8 * len(IDS)


EACH_RIGHT = {
    "which_phantom": {"few", "half", "leg", "pair"},
    "will_it_stop": {"breaker", "bond", "motor", "nothing"},
    "next_reading": {"H4-H6", "L1-H2", "L1-H4", "alone", "elements"},
    "belt_run": {"drum_front", "idler", "pulley", "turn_over", "untwist"},
}
"""Choices of which each option is right on some machine, about as often as any other."""


@pytest.mark.parametrize(("lesson", "name"), [(one, question.name) for one, question in ASKED
                                              if question.name in EACH_RIGHT])  # fmt: skip
def test_each_option_is_right_on_about_as_many_machines_as_any_other(lesson: str, name: str) -> None:
    found = dealt(lesson, name)
    counts = Counter(key for _, right in found for key in right)
    assert set(counts) == EACH_RIGHT[name]
    assert all(set(texts) == EACH_RIGHT[name] and len(right) == 1 for texts, right in found)
    assert min(counts.values()) > 0.6 * len(IDS) / len(counts)
    assert max(counts.values()) < 1.5 * len(IDS) / len(counts)


@NAMED
def test_how_many_fit_differs_from_machine_to_machine(lesson: str, question: Lettered) -> None:
    if not isinstance(question, Choices):
        pytest.skip("one letter")
    counts = Counter(len(right) for _, right in dealt(lesson, question.name))
    assert len(counts) >= 2
    assert max(counts.values()) <= 0.7 * len(IDS)
    for texts, right in dealt(lesson, question.name):
        assert 0 < len(right) < len(texts)


@NAMED
def test_what_is_right_is_offered_and_every_wrong_option_names_a_slip(lesson: str, question: Lettered) -> None:
    reference: Any = next(one for one in references(lesson) if one.question == question.name)
    for apprentice, (texts, right) in zip(IDS, dealt(lesson, question.name), strict=True):
        slips = reference.slips_on(sheet(lesson).card(apprentice))
        assert right <= set(texts)
        assert len(set(texts.values())) == len(texts)
        assert all(slips[key] in SLIPS for key in texts if key not in right)
