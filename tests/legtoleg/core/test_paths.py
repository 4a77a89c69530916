"""The rooms: where they are, what lessons there are, and the top level that is promised."""

from __future__ import annotations

import subprocess

import pytest

from legtoleg.core.paths import ROOT, FolderMissingError, course_folder, lesson_names

TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "lessons", "solutions", "grader", "tests", "datasets"}


def test_a_missing_room_is_one_clear_line() -> None:
    with pytest.raises(FolderMissingError, match="Clone the course"):
        course_folder("cellar")


def test_lessons_are_in_order() -> None:
    assert "03_heater_power" in lesson_names()
    assert lesson_names() == sorted(lesson_names())


def test_the_top_level_is_what_is_promised() -> None:
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    if listed.returncode != 0:
        pytest.skip("not a git checkout")
    top = {line.split("/")[0] for line in listed.stdout.splitlines()}
    assert {name for name in top if not name.startswith(".")} == TOP
