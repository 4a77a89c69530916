"""The sitting of ten minutes: what it asks, what it takes, what it keeps, and that a graded run stays quiet."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from fsrs import Rating

from dryerbench.core.identity import MARK
from dryerbench.notebook import progress, ten_minutes
from dryerbench.notebook.ten_minutes import Sitting, TenMinutes
from dryerbench.recall.review_log import FILE, load
from dryerbench.registry import DRILLS, SHEETS, TASKS

NOW = datetime(2030, 1, 7, 12, 0, tzinfo=UTC)


@pytest.fixture
def kit(tmp_path: Path) -> Path:
    (tmp_path / MARK).write_text('{"apprentice": "ada-01"}', encoding="utf-8")
    return tmp_path


@pytest.fixture
def begun(kit: Path) -> Path:
    progress.note_answered(list(SHEETS)[3], "anything", kit)
    return kit


def sitting(kit: Path, days: float = 0.0) -> Sitting:
    return Sitting(kit, lambda: NOW + timedelta(days=days))


def drill_first(kit: Path, monkeypatch: pytest.MonkeyPatch) -> TenMinutes:
    """Return a sitting whose first card is a drill."""
    (kit / progress.MISSED).write_text(
        '{"03_heater_power": {"day": "2030-01-07", "drills": ["amps"]}}', encoding="utf-8"
    )
    monkeypatch.setattr(ten_minutes, "cards", lambda: {"amps": ten_minutes.Card("amps", "03_heater_power")})
    return TenMinutes(sitting(kit))


def right(made: TenMinutes) -> str:
    drill = DRILLS["amps"]
    numbers = drill.numbers(made.sitting.turn(made.sitting.set[0].card))
    return f"{TASKS[drill.task].right(**numbers):.4g} {drill.unit}"


def test_before_the_first_lesson_there_is_nothing_to_ask(kit: Path) -> None:
    assert sitting(kit).set == []
    assert TenMinutes(sitting(kit)).head.value == "<b>Nothing to ask today.</b>"


def test_only_what_was_begun_is_asked_and_what_went_is_kept(begun: Path) -> None:
    now = sitting(begun)
    lessons = list(SHEETS)
    assert now.set
    assert {one.card.lesson for one in now.set} <= set(lessons[:4])
    while now.asked:
        now.went(Rating.Good)
    assert now.kept
    assert [one.card for one in load(begun / FILE)] == [one.card.name for one in now.set]
    assert not {one.card.name for one in sitting(begun, 0.1).set} & {one.card.name for one in now.set}
    assert {one.card.name for one in now.set} <= {one.card.name for one in sitting(begun, 30).set}


def test_a_recall_question_shows_its_answer_before_it_asks_how_it_went(begun: Path) -> None:
    made = TenMinutes(sitting(begun))
    asked = made.sitting.asked
    assert asked is not None
    assert not asked.card.is_drill
    assert asked.card.answer not in made.question.value
    made.show.click()
    assert "Answer:" in made.says.value
    made.knew[0][0].click()
    assert load(begun / FILE)[0].rating is Rating.Again
    assert made.sitting.place == 1


@pytest.mark.parametrize(("wrong", "rating"), [(0, Rating.Good), (1, Rating.Hard), (2, Rating.Again)])
def test_a_drill_is_judged_by_its_tries(
    begun: Path, monkeypatch: pytest.MonkeyPatch, wrong: int, rating: Rating
) -> None:
    made = drill_first(begun, monkeypatch)
    made.box.value = "ten or so"  # cannot be read, costs nothing
    for n in range(wrong):
        made.box.value = f"{900 + n} A"
    made.box.value = right(made)
    assert "Right" in made.says.value
    assert [one.rating for one in load(begun / FILE)] == [rating]
    made.box.value = "1 A"  # after the end of the card nothing is judged
    assert len(load(begun / FILE)) == 1
    made.next.click()
    assert made.head.value == "<b>Done for today.</b>"


def test_giving_up_says_where_to_read(begun: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    made = drill_first(begun, monkeypatch)
    made.give_up.click()
    assert "lesson 03" in made.says.value
    assert load(begun / FILE)[0].rating is Rating.Again


def test_numbers_are_new_each_time(begun: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    made = drill_first(begun, monkeypatch)
    before = made.question.value
    made.give_up.click()
    assert drill_first(begun, monkeypatch).question.value != before or not made.sitting.set
    assert TenMinutes(sitting(begun, 1)).question.value != before


def test_a_folder_that_cannot_be_written_to_is_told(begun: Path) -> None:
    (begun / FILE).mkdir()
    made = TenMinutes(sitting(begun))
    while made.sitting.asked:
        made.sitting.went(Rating.Good)
    made.ask()
    assert "could not be kept" in made.question.value


def test_a_marked_run_shows_one_line(monkeypatch: pytest.MonkeyPatch) -> None:
    shown: list[dict[str, Any]] = []
    monkeypatch.setenv("LEGTOLEG_FIGURES", "words")
    monkeypatch.setattr(ten_minutes.os, "environ", {ten_minutes.MODE: "words"})
    monkeypatch.setattr(ten_minutes, "show_bundle", shown.append)
    ten_minutes.ten_minutes()
    assert shown == [{"text/plain": "Ten minutes a day: open this page in Jupyter."}]
