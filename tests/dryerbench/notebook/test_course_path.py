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
    assert shown[0]["text/html"].count("target='_blank'") == 1
    assert "Today: Lesson 01 · Made dead: you have not answered any of its" in shown[0]["text/plain"]
    page.unlink()
    (tmp_path / "tries.json").unlink()
    course_path.show_path()
    assert "Came back" not in shown[1]["text/html"]


def test_each_lesson_is_a_link_where_its_page_is(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "kit.json").write_text('{"apprentice": "ada-01"}')
    start, page = tmp_path / "lessons" / "00_start", tmp_path / "lessons" / "01_made_dead" / "01_made_dead.ipynb"
    for folder in (start, page.parent):
        folder.mkdir(parents=True)
    page.write_text("{}")
    monkeypatch.chdir(start)
    assert course_path.way_to("01_made_dead") == "../01_made_dead/01_made_dead.ipynb"
    assert course_path.way_to("02_two_legs") == ""


def test_what_is_next(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "kit.json").write_text('{"apprentice": "ada-01"}')
    monkeypatch.chdir(tmp_path)
    first, second = list(SHEETS)[:2]
    done = {lesson: [question.name for question in paper.questions] for lesson, paper in SHEETS.items()}
    one = done[first][:1]
    assert course_path.today(Progress(), ()).startswith("Lesson 01 · Made dead: you have not answered any of its")
    assert course_path.today(Progress(answered={first: one}), ()).startswith("Go on with lesson 01 · Made dead: 1 of ")
    assert course_path.today(Progress(answered=done), ()).startswith("Hand in lesson 01 · Made dead: all is answered.")
    assert course_path.today(Progress(signed={first: "2026-05-01"}), ()).startswith(
        "Lesson 02 · Two legs: you have not"
    )
    assert course_path.today(Progress(answered=done), SHEETS).startswith("Every lesson is handed in")
    (tmp_path / "tries.json").write_text(f'{{"{second}": 2}}')
    assert "02 · Two legs once more: card 2" in course_path.today(Progress(signed={first: "2026-05-01"}), ())


def test_what_was_handed_in_is_told_from_the_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "kit.json").write_text('{"apprentice": "ada-01"}')
    monkeypatch.chdir(tmp_path)
    assert course_path.handed_in() == set()
    (tmp_path / "hand_in").mkdir()
    (tmp_path / "hand_in" / "02_two_legs-ada-01.ipynb").write_text("{}")
    (tmp_path / "hand_in" / "notes.txt").write_text("")
    assert course_path.handed_in() == {"02_two_legs"}
