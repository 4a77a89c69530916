"""What goes back beside the feedback: the lessons signed off, which the apprentice's start page then shows."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest

from dryerbench.core import identity
from dryerbench.notebook import course_path, progress
from legtoleg.cohort.signed_off_note import note_signed

LESSON, OTHER = "03_heater_power", "01_made_dead"
DAY = date(2026, 5, 1)


def test_dropped_into_the_kit_the_start_page_shows_it(tmp_path: Path) -> None:
    note_signed(tmp_path / "feedback" / "ada-01", LESSON, signed=True, day=DAY)
    kit = tmp_path / "kit"
    (kit / "lessons" / "00_start").mkdir(parents=True)
    (kit / identity.MARK).write_text('{"apprentice": "ada-01"}', encoding="utf-8")
    shutil.copy(tmp_path / "feedback" / "ada-01" / progress.SIGNED, kit)
    rows = course_path.rows(progress.load(kit / "lessons" / "00_start"))
    assert [row[3] for row in rows if row[3] != "–"] == ["✓ 2026-05-01"]


def test_the_first_day_stays_and_what_is_no_longer_signed_off_goes(tmp_path: Path) -> None:
    note_signed(tmp_path, LESSON, signed=True, day=DAY)
    note_signed(tmp_path, OTHER, signed=True, day=date(2026, 6, 1))
    note_signed(tmp_path, LESSON, signed=True, day=date(2026, 7, 1))
    assert progress._read(tmp_path / progress.SIGNED) == {OTHER: "2026-06-01", LESSON: "2026-05-01"}
    note_signed(tmp_path, LESSON, signed=False)
    assert progress._read(tmp_path / progress.SIGNED) == {OTHER: "2026-06-01"}


def test_nothing_signed_off_is_no_file(tmp_path: Path) -> None:
    note_signed(tmp_path, LESSON, signed=False)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("text", ["", "{", "[]", '{"a": 7}'])
def test_a_damaged_file_is_mended(tmp_path: Path, text: str) -> None:
    (tmp_path / progress.SIGNED).write_text(text, encoding="utf-8")
    note_signed(tmp_path, LESSON, signed=True, day=DAY)
    assert progress._read(tmp_path / progress.SIGNED) == {LESSON: "2026-05-01"}
