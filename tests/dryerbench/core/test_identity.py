"""Whose machine it is: the kit's mark, the marker's word, or nobody."""

from __future__ import annotations

from pathlib import Path

import pytest

from dryerbench.core.errors import KitError
from dryerbench.core.identity import MARK, VARIABLE, checked_id, find_kit


@pytest.fixture(autouse=True)
def nobody_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(VARIABLE, raising=False)


def test_without_a_kit_it_is_the_practice_machine(tmp_path: Path) -> None:
    kit = find_kit(tmp_path)
    assert kit.practice
    assert kit.apprentice == "practice"


def test_the_mark_counts_for_every_folder_below(tmp_path: Path) -> None:
    (tmp_path / MARK).write_text('{"apprentice": "demo-07"}', encoding="utf-8")
    below = tmp_path / "lessons" / "03_heater_power"
    below.mkdir(parents=True)
    assert find_kit(below).apprentice == "demo-07"
    assert not find_kit(below).practice


def test_a_byte_order_mark_does_no_harm(tmp_path: Path) -> None:
    (tmp_path / MARK).write_text('{"apprentice": "demo-07"}', encoding="utf-8-sig")
    assert find_kit(tmp_path).apprentice == "demo-07"


def test_the_marker_wins_over_the_mark(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / MARK).write_text('{"apprentice": "demo-07"}', encoding="utf-8")
    monkeypatch.setenv(VARIABLE, "demo-08")
    assert find_kit(tmp_path).apprentice == "demo-08"


@pytest.mark.parametrize("text", ["", "{", "[]", '{"apprentice": 7}', '{"apprentice": "../x"}', '{"other": "a"}', "7"])
def test_a_damaged_mark_is_one_clear_line(tmp_path: Path, text: str) -> None:
    (tmp_path / MARK).write_text(text, encoding="utf-8")
    with pytest.raises(KitError) as caught:
        find_kit(tmp_path)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("bad", ["", "a b", "../a", ".a", "-a", "a/b", "a" * 65, "é", 7, None])
def test_what_cannot_be_an_id(bad: object) -> None:
    with pytest.raises(KitError, match="cannot be an apprentice's id"):
        checked_id(bad)


@pytest.mark.parametrize("good", ["a", "demo-01", "A.b_c-9", "7"])
def test_what_can_be_an_id(good: str) -> None:
    assert checked_id(good) == good
