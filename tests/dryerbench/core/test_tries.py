"""Which card a kit opens: by the marker, by the cell, by the file that comes with the feedback, else the first."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from dryerbench.core.errors import KitError
from dryerbench.core.identity import MARK, MOST_TRIES, TRIES, TRY_VARIABLE, VARIABLE, find_try

LESSON = "03_heater_power"


@pytest.fixture
def kit(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.delenv(VARIABLE, raising=False)
    monkeypatch.delenv(TRY_VARIABLE, raising=False)
    (tmp_path / MARK).write_text('{"apprentice": "ada-01"}', encoding="utf-8")
    inner = tmp_path / "lessons" / LESSON
    inner.mkdir(parents=True)
    return inner


def test_the_file_beside_the_mark_says_it_for_each_lesson(kit: Path) -> None:
    assert find_try(LESSON, start=kit) == 1
    (kit.parents[1] / TRIES).write_text(json.dumps({LESSON: 3}), encoding="utf-8")
    assert find_try(LESSON, start=kit) == 3
    assert find_try("01_made_dead", start=kit) == 1
    assert find_try(LESSON, 2, start=kit) == 2


@pytest.mark.parametrize("text", ["", "{", "[]", '{"03_heater_power": "2"}', '{"03_heater_power": 0}',
                                  '{"03_heater_power": true}', '{"03_heater_power": 1000}'])  # fmt: skip
def test_a_damaged_file_counts_as_the_first_card(kit: Path, text: str) -> None:
    (kit.parents[1] / TRIES).write_text(text, encoding="utf-8")
    assert find_try(LESSON, start=kit) == 1


@pytest.mark.parametrize("asked", [0, -1, MOST_TRIES + 1, True, "2", 2.0])
def test_what_is_no_number_of_a_card_is_said(kit: Path, asked: object) -> None:
    with pytest.raises(KitError, match="numbered from 1"):
        find_try(LESSON, asked, start=kit)  # type: ignore[arg-type]


def test_the_marker_wins_over_the_cell_and_the_file(kit: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (kit.parents[1] / TRIES).write_text(json.dumps({LESSON: 3}), encoding="utf-8")
    monkeypatch.setenv(VARIABLE, "ada-01")
    assert find_try(LESSON, 4, start=kit) == 1
    monkeypatch.setenv(TRY_VARIABLE, "2")
    assert find_try(LESSON, 4, start=kit) == 2
    monkeypatch.setenv(TRY_VARIABLE, "many")
    assert find_try(LESSON, 4, start=kit) == 1
