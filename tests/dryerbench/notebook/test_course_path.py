"""The path: every lesson in order, and how far it is."""

from __future__ import annotations

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
