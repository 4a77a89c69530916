"""What graded work missed comes back as drills and as safety, without a letter or a value."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from dryerbench.notebook.ten_minutes import missed as read_missed
from dryerbench.registry import DRILLS, SHEETS
from legtoleg.cohort.signed_off_note import note_missed
from legtoleg.marking.missed import Missed, missed
from legtoleg.marking.outcomes import Outcome

LESSON = "03_heater_power"


def lost(question: str, note: str = "wrong", safety: str = "") -> Outcome:
    return Outcome(question, 0.0, 2.0, note, "", safety=safety)


@pytest.mark.parametrize("lesson", SHEETS)
def test_all_right_or_not_begun_misses_nothing(lesson: str) -> None:
    names = [question.name for question in SHEETS[lesson].questions]
    assert missed(lesson, [Outcome(name, 2.0, 2.0, "right", "", safety="clear") for name in names]) == Missed()
    assert missed(lesson, [lost(name, "no_record", "open") for name in names]) == Missed()


def test_each_drill_comes_back_for_a_question_of_its_task() -> None:
    found = {
        name
        for lesson, paper in SHEETS.items()
        for question in paper.questions
        for name in missed(lesson, [lost(question.name)]).drills
    }
    assert len(found) >= 20
    assert found <= set(DRILLS)


def test_safety_is_said_and_nothing_else() -> None:
    assert missed(LESSON, [lost("breaker_limit", safety="held")]).safety
    assert not missed(LESSON, [lost("breaker_limit")]).safety


def test_the_note_comes_back_as_it_was_written(tmp_path: Path) -> None:
    note_missed(tmp_path, LESSON, Missed(("amps",), safety=True), date(2026, 5, 1))
    note_missed(tmp_path, LESSON, Missed(("amps",), safety=True), date(2026, 6, 1))
    (back,) = read_missed(tmp_path).values()
    assert (back.day, back.drills, back.safety) == (date(2026, 5, 1), {"amps"}, True)
    note_missed(tmp_path, LESSON, Missed(("watts",)), date(2026, 6, 1))
    assert read_missed(tmp_path)[LESSON].day == date(2026, 6, 1)
    note_missed(tmp_path, LESSON, Missed())
    assert read_missed(tmp_path) == {}


@pytest.mark.parametrize(
    "text", ["", "{", "[]", '{"a": 7}', '{"a": {"day": "x", "drills": []}}', '{"a": {"day": "2026-05-01"}}']
)
def test_a_damaged_note_counts_as_nothing_and_is_mended(tmp_path: Path, text: str) -> None:
    (tmp_path / "missed.json").write_text(text, encoding="utf-8")
    assert read_missed(tmp_path) == {}
    note_missed(tmp_path, LESSON, Missed(("amps",)), date(2026, 5, 1))
    assert read_missed(tmp_path)[LESSON].drills == {"amps"}
