"""Lesson 09's drawings: steps wait for what they wait for, and the words say what the drawing shows."""

from __future__ import annotations

import pytest

import dryerbench
from dryerbench.drawing.interactive_figure import Explorer
from dryerbench.topics.open_and_close.figures import STEPS, open_steps


@pytest.fixture
def caught(monkeypatch: pytest.MonkeyPatch) -> list[Explorer]:
    found: list[Explorer] = []
    monkeypatch.setattr(Explorer, "show", lambda self: found.append(self))
    return found


def test_a_step_that_is_done_next_was_open_before() -> None:
    for done, key in enumerate(STEPS):
        assert key in open_steps(done)
    assert open_steps(len(STEPS)) == []


def test_the_cover_waits_for_the_proof_that_the_circuit_is_dead() -> None:
    for done in range(list(STEPS).index("again") + 1):
        assert "cover" not in open_steps(done)
    assert set(open_steps(0)) == {"plug", "meter"}


def test_the_words_of_the_steps(caught: list[Explorer]) -> None:
    dryerbench.show_open_steps()
    assert "plug out" in caught[0].words({"done": 0.0})
    assert "All ten" in caught[0].words({"done": 10.0})


def test_the_belt_says_more_with_more_push(caught: list[Explorer]) -> None:
    dryerbench.show_belt()
    assert "102° around" in caught[0].words({"travel": 0.0})
    assert "151° around" in caught[0].words({"travel": 4.0})


def test_the_clamp_says_what_is_missing(caught: list[Explorer]) -> None:
    dryerbench.show_clamp_fit()
    at = {"working": 3.0, "jaw": 0.0, "volts": 236.0, "sheet": 27.0}
    assert "25.6 A for three" in caught[0].words(at)
    assert "It fits." in caught[0].words(at)
    assert "A third is missing." in caught[0].words({**at, "working": 2.0})
    assert "shows 0.00 A" in caught[0].words({**at, "jaw": 1.0})
