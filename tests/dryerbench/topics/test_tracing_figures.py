"""Lesson 07's drawings say what they show."""

from __future__ import annotations

import pytest

import dryerbench
from dryerbench.drawing.interactive_figure import Explorer


@pytest.fixture
def caught(monkeypatch: pytest.MonkeyPatch) -> list[Explorer]:
    found: list[Explorer] = []
    monkeypatch.setattr(Explorer, "show", lambda self: found.append(self))
    return found


def test_the_diagram_says_how_the_line_runs(caught: list[Explorer]) -> None:
    dryerbench.show_diagram()
    words = [caught[0].words({"state": float(state)}) for state in range(3)]
    assert "no current in the heater circuit: 0.0 A" in words[0]
    assert "centrifugal switch to leg 2: 25.3 A" in words[1]
    assert "is tied to leg 2, hot: 0.0 A" in words[2]


def test_the_open_contact_has_the_supply(caught: list[Explorer]) -> None:
    dryerbench.show_heater_line()
    assert "It heats." in caught[0].words({"open": 0.0, "volts": 240.0})
    assert "high limit is open: 239 V across it, H7 to H8" in caught[0].words({"open": 4.0, "volts": 240.0})


def test_halving_counts_down(caught: list[Explorer]) -> None:
    dryerbench.show_halving()
    assert "9 places: at worst 8 readings one after another, 4 if you split in half" in caught[0].words({"places": 9.0})
    assert "9, then 5, then 3, then 2, then 1" in caught[0].words({"places": 9.0})
