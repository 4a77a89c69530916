"""What graded work missed comes back as drills and as safety, without a letter or a value."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from dryerbench.core.identity import MARK
from dryerbench.course.questions import BenchQuestion, FaultQuestion
from dryerbench.notebook import progress
from dryerbench.notebook.course_path import at_the_bench
from dryerbench.notebook.progress import Progress
from dryerbench.notebook.ten_minutes import Sitting
from dryerbench.notebook.ten_minutes import missed as read_missed
from dryerbench.recall.cards import benches, cards, leads
from dryerbench.registry import DRILLS, SHEETS, sheet
from legtoleg.cohort.signed_off_note import note_missed
from legtoleg.marking.missed import Missed, missed, practicing
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


WITHOUT: dict[str, str] = {}
"""Graded questions that nothing practices, by name, each with the reason."""


@pytest.mark.parametrize("lesson", SHEETS)
def test_each_graded_question_leads_to_a_card_or_a_drill(lesson: str) -> None:
    for name, found in practicing(lesson).items():
        assert bool(found) != (name in WITHOUT), name
        back = missed(lesson, [lost(name)])
        assert {*back.drills, *back.cards} == found <= set(cards())
        assert set(back.drills) == found & set(DRILLS)


@pytest.mark.parametrize("lesson", SHEETS)
def test_no_lead_repeats_a_drill_of_the_question_s_own_task(lesson: str, monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as without:
        without.setattr("legtoleg.marking.missed.leads", dict)
        by_task = practicing(lesson)
    assert not [name for name, found in by_task.items() if found & set(leads().get(name, ()))]


def test_who_missed_only_safety_in_two_lessons_gets_these_ideas_first(tmp_path: Path) -> None:
    (tmp_path / MARK).write_text('{"apprentice": "ada-01"}', encoding="utf-8")
    progress.note_answered("10_call_to_close", "anything", tmp_path)
    owed = set[str]()
    for lesson in ("07_tracing_the_circuit", "08_air_and_drying"):
        outcomes = [
            lost(one.name, safety="held") if one.safety else Outcome(one.name, 2.0, 2.0, "right", "")
            for one in sheet(lesson).questions
        ]
        back = missed(lesson, outcomes)
        note_missed(tmp_path, lesson, back, date(2030, 1, 6))
        owed |= {*back.drills, *back.cards}
    owed_safety = {name for name in owed if cards()[name].safety}
    assert len([name for name in owed_safety if name.startswith(("idea-07", "idea-08"))]) >= 8
    today = Sitting(tmp_path, lambda: datetime(2030, 1, 7, 12, 0, tzinfo=UTC)).set
    first = today[: len(owed_safety)]
    assert {one.card.name for one in first} == owed_safety
    assert {one.why for one in first} == {"Your graded work missed this."}
    others = [one for one in today if not one.card.safety]
    assert all(one.card.name in owed for one in others[: len(owed - owed_safety)])


def test_safety_is_said_and_nothing_else() -> None:
    assert missed(LESSON, [lost("breaker_limit", safety="held")]).safety
    assert not missed(LESSON, [lost("breaker_limit")]).safety


def test_the_note_comes_back_as_it_was_written(tmp_path: Path) -> None:
    lost_there = Missed(("amps",), safety=True, cards=("idea-03-off-not-dead",))
    note_missed(tmp_path, LESSON, lost_there, date(2026, 5, 1))
    note_missed(tmp_path, LESSON, lost_there, date(2026, 6, 1))
    (back,) = read_missed(tmp_path).values()
    assert (back.day, back.cards) == (date(2026, 5, 1), {"amps", "idea-03-off-not-dead"})
    note_missed(tmp_path, LESSON, Missed(("watts",)), date(2026, 6, 1))
    assert read_missed(tmp_path)[LESSON].day == date(2026, 6, 1)
    note_missed(tmp_path, LESSON, Missed())
    assert read_missed(tmp_path) == {}


def test_a_note_from_before_ideas_had_names_still_owes_all_safety_of_its_lesson(tmp_path: Path) -> None:
    old = '{"03_heater_power": {"day": "2026-05-01", "drills": ["amps"], "safety": true}}'
    (tmp_path / "missed.json").write_text(old, encoding="utf-8")
    assert read_missed(tmp_path)[LESSON].safety
    note_missed(tmp_path, LESSON, Missed(("amps",), safety=True), date(2026, 6, 1))
    assert not read_missed(tmp_path)[LESSON].safety


@pytest.mark.parametrize(
    "text", ["", "{", "[]", '{"a": 7}', '{"a": {"day": "x", "drills": []}}', '{"a": {"day": "2026-05-01"}}']
)
def test_a_damaged_note_counts_as_nothing_and_is_mended(tmp_path: Path, text: str) -> None:
    (tmp_path / "missed.json").write_text(text, encoding="utf-8")
    assert read_missed(tmp_path) == {}
    note_missed(tmp_path, LESSON, Missed(("amps",)), date(2026, 5, 1))
    assert read_missed(tmp_path)[LESSON].cards == {"amps"}


# --- the bench to practice on ---------------------------------------------------------------------------------------

AT_A_BENCH = [
    (lesson, question.name)
    for lesson, paper in SHEETS.items()
    for question in paper.questions
    if isinstance(question, BenchQuestion | FaultQuestion)
]
_BENCH = re.compile(r"^(practice_bench|practice_call|machine_call)\(", re.MULTILINE)


def test_each_question_at_a_bench_and_no_other_leads_to_one() -> None:
    assert set(benches()) == {name for _, name in AT_A_BENCH}


@pytest.mark.parametrize(("lesson", "name"), AT_A_BENCH)
def test_the_heading_is_in_the_lesson_and_a_bench_stands_under_it(lesson: str, name: str) -> None:
    text = (Path(__file__).parents[3] / "solutions" / f"{lesson}.md").read_text(encoding="utf-8")
    (part,) = re.findall(rf"(?ms)^## {re.escape(benches()[name])}\n(.*?)(?=^## |^# )", text)
    assert _BENCH.search(part)
    assert f":question: {name}\n" not in part
    assert missed(lesson, [lost(name)]).benches == (benches()[name],)
    assert missed(lesson, [Outcome(name, 2.0, 2.0, "right", "", safety="clear")]).benches == ()


def test_the_start_page_says_where_the_bench_is_until_it_is_signed_off(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / MARK).write_text("{}", encoding="utf-8")
    monkeypatch.setattr(progress, "root", lambda start=None: tmp_path)
    note_missed(tmp_path, "05_path_to_case", missed("05_path_to_case", [lost("tag_shared"), lost("fault_to_case")]))
    note_missed(tmp_path, LESSON, missed(LESSON, [lost("heater_power")]))
    found = progress.missed_benches()
    assert at_the_bench(Progress(), found) == ["Practice on the bench: lesson 05, “Practice on a bench”."]
    assert at_the_bench(Progress(signed={"05_path_to_case": "2026-01-05"}), found) == []
    (tmp_path / progress.MISSED).write_text('{"05_path_to_case": {"benches": 5}, "x": 3}', encoding="utf-8")
    assert at_the_bench(Progress(), progress.missed_benches()) == []
