"""The path: every lesson in order, and how far it is."""

from __future__ import annotations

from pathlib import Path

import pytest

from dryerbench.notebook import course_path
from dryerbench.notebook.progress import Progress
from dryerbench.registry import SHEETS


def test_a_row_for_each_lesson_in_order() -> None:
    rows = course_path.rows(Progress())
    assert [row[0][:2] for row in rows] == [lesson[:2] for lesson in SHEETS]
    assert all(row[3] == "–" for row in rows)


def test_what_was_done_shows() -> None:
    done = Progress({"amps": 3, "watts": 1}, {"03_heater_power": ["drift", "gone"]}, {"03_heater_power": "2026-05-01"})
    row = next(row for row in course_path.rows(done) if row[0].startswith("03"))
    assert row[1].startswith("2 of ")
    assert row[2] == "1 of 14"
    assert row[3] == "✓ 2026-05-01"


def test_shown_as_a_table_and_in_words(monkeypatch: pytest.MonkeyPatch) -> None:
    shown: list[dict] = []
    monkeypatch.setattr(course_path, "display", lambda bundle, raw: shown.append(bundle))
    course_path.show_path()
    assert "03 · Heater power" in shown[0]["text/plain"]
    assert shown[0]["text/html"].count("<tr>") == len(SHEETS) + 1


def test_what_came_back_is_shown_with_a_way_to_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shown: list[dict] = []
    monkeypatch.setattr(course_path, "display", lambda bundle, raw: shown.append(bundle))
    (tmp_path / "kit.json").write_text('{"apprentice": "ada-01"}')
    (tmp_path / "tries.json").write_text('{"02_two_legs": 2}')
    page = tmp_path / "feedback" / "03_heater_power" / "03_heater_power.html"
    page.parent.mkdir(parents=True)
    page.write_text("page")
    start = tmp_path / "lessons" / "00_start"
    start.mkdir(parents=True)
    monkeypatch.chdir(start)
    course_path.show_path()
    assert "href='../../feedback/03_heater_power/03_heater_power.html'" in shown[0]["text/html"]
    assert "card 2 is dealt" in shown[0]["text/plain"]
    assert shown[0]["text/html"].count("href") == 1
    page.unlink()
    (tmp_path / "tries.json").unlink()
    course_path.show_path()
    assert "Came back" not in shown[1]["text/html"]
