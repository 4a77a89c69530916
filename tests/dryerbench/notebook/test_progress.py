"""Progress: kept in one file, damaged files cost nothing, and nothing is kept where notebooks are marked."""

from __future__ import annotations

from pathlib import Path

import pytest

from dryerbench.core.identity import MARK
from dryerbench.drawing import interactive_figure
from dryerbench.notebook import progress


@pytest.fixture
def kit(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.delenv(interactive_figure.MODE, raising=False)
    (tmp_path / MARK).write_text('{"apprentice": "demo-01"}', encoding="utf-8")
    lesson = tmp_path / "lessons" / "03_heater_power"
    lesson.mkdir(parents=True)
    monkeypatch.chdir(lesson)
    return tmp_path


def test_what_was_done_is_kept(kit: Path) -> None:
    progress.note_practiced("amps")
    progress.note_practiced("amps")
    progress.note_answered("03_heater_power", "drift")
    progress.note_answered("03_heater_power", "drift")
    found = progress.load()
    assert found.practiced == {"amps": 2}
    assert found.answered == {"03_heater_power": ["drift"]}
    assert {path.name for path in kit.iterdir()} == {MARK, progress.FILE, "lessons"}


def test_signed_off_comes_from_the_instructors_file(kit: Path) -> None:
    (kit / progress.SIGNED).write_text('{"03_heater_power": "2026-05-01", "x": 7}', encoding="utf-8")
    assert progress.load().signed == {"03_heater_power": "2026-05-01"}


@pytest.mark.parametrize("text", ["", "{", "[]", "7", '{"practiced": [1]}', '{"answered": {"a": 7}, "practiced": 3}'])
def test_a_damaged_file_counts_as_nothing_and_is_mended(kit: Path, text: str) -> None:
    (kit / progress.FILE).write_text(text, encoding="utf-8")
    assert progress.load().practiced == {}
    progress.note_practiced("watts")
    assert progress.load().practiced == {"watts": 1}


def test_nothing_is_kept_where_it_is_marked_or_cannot_be_written(kit: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(interactive_figure.MODE, "words")
    progress.note_practiced("amps")
    assert not (kit / progress.FILE).exists()
    monkeypatch.setenv(interactive_figure.MODE, "live")
    (kit / f"{progress.FILE}.new").mkdir()
    progress.note_practiced("amps")
    assert not (kit / progress.FILE).exists()


def test_outside_of_any_kit_nothing_happens(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    progress.note_practiced("amps")
    assert progress.load() == progress.Progress()
    assert list(tmp_path.iterdir()) == []
