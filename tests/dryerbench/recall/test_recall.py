"""Ten minutes a day: what is kept, how memory follows FSRS, what today's set holds and in what order."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import fsrs
import pytest
from fsrs import Rating
from hypothesis import given
from hypothesis import strategies as st

from dryerbench.recall.cards import Card, cards
from dryerbench.recall.daily_set import NEW_A_DAY, Missed, standing, todays_set
from dryerbench.recall.memory import KEPT, Memory
from dryerbench.recall.review_log import Review, add, line, load, read
from dryerbench.registry import DRILLS, SHEETS

NOON = datetime(2030, 1, 7, 12, 0, tzinfo=UTC)
LESSON, OTHER = list(SHEETS)[:2]
DECK = {
    one.name: one
    for one in (
        Card("plug", LESSON, True, "What about the plug?", "In sight."),
        Card("lock", LESSON, True, "Who takes a lock off?", "Who put it on."),
        Card("belt", LESSON, False, "How does the belt run?", "Ribs on the drum."),
        Card("legs", OTHER, True, "How many hot legs?", "Two."),
        Card("amps", OTHER),
    )
}


def at(days: float) -> datetime:
    return NOON + timedelta(days=days)


def names(memory: Memory, now: datetime, **more: object) -> list[str]:
    return [one.card.name for one in todays_set(DECK, memory, now, **{"begun": {LESSON, OTHER}, **more})]  # type: ignore[arg-type]


def test_every_drill_and_every_recall_question_is_a_card() -> None:
    assert set(DRILLS) <= set(cards())
    recall = [one for one in cards().values() if not one.is_drill]
    assert len(recall) >= 24
    assert all(one.answer and one.lesson in SHEETS for one in recall)
    assert sum(one.safety for one in recall) >= 8


@given(st.lists(st.tuples(st.sampled_from(sorted(DECK)), st.integers(0, 900), st.sampled_from(Rating)), max_size=12))
def test_the_log_gives_back_what_was_added(rows: list[tuple[str, int, Rating]]) -> None:
    reviews = sorted((Review(card, at(day / 7), rating) for card, day, rating in rows), key=lambda one: one.at)
    assert read("".join(map(line, reviews)).splitlines()) == reviews


@pytest.mark.parametrize(
    "damage", ["{", "[]", "7", '{"card": "a"}', '{"card": "a", "at": "x", "rating": "good"}', "\0"]
)
def test_a_damaged_line_costs_only_itself(tmp_path: Path, damage: str) -> None:
    path = tmp_path / "memory.jsonl"
    assert add(path, Review("plug", NOON, Rating.Good))
    with path.open("a", encoding="utf-8") as file:
        file.write(damage)  # and no end of line: a power cut
    assert add(path, Review("lock", NOON, Rating.Again))
    assert [one.card for one in load(path)] == ["plug", "lock"]


def test_a_folder_that_cannot_be_written_to_is_told(tmp_path: Path) -> None:
    assert not add(tmp_path / "nowhere" / "memory.jsonl", Review("plug", NOON, Rating.Good))
    assert load(tmp_path / "nowhere" / "memory.jsonl") == []


def test_memory_is_the_librarys_own() -> None:
    """Beside the library, asked directly, and FSRS' published forgetting curve."""
    memory = Memory([Review("plug", NOON, Rating.Good), Review("plug", at(3), Rating.Good)])
    scheduler, card = fsrs.Scheduler(learning_steps=(), relearning_steps=(), enable_fuzzing=False), fsrs.Card()
    for day in (0, 3):
        card, _ = scheduler.review_card(card, Rating.Good, at(day))
    decay = -scheduler.parameters[20]
    factor = KEPT ** (1 / decay) - 1
    assert card.stability is not None
    for days in (4, 10, 40):
        assert memory.known("plug", at(days)) == pytest.approx((1 + factor * (days - 3) / card.stability) ** decay)
    assert memory.known("lock", NOON) == 0.0


def test_what_is_known_longer_is_asked_later() -> None:
    memory = Memory([Review("plug", NOON, Rating.Again), Review("belt", NOON, Rating.Good)])
    due = {name: next(day for day in range(1, 99) if memory.due(name, at(day))) for name in ("plug", "belt")}
    assert due["plug"] == 1 < due["belt"]
    assert not memory.due("lock", at(50))


def test_safety_comes_first_then_what_was_missed_then_what_fades() -> None:
    reviews = [Review(name, at(day), Rating.Good) for day, name in ((0, "amps"), (1, "belt"), (2, "plug"), (3, "lock"))]
    memory, late = Memory(reviews), at(60)
    assert names(memory, late) == ["plug", "lock", "amps", "belt", "legs"]
    missed = {LESSON: Missed(at(59).date(), safety=True), OTHER: Missed(at(59).date(), frozenset({"amps"}))}
    assert names(memory, late, missed=missed)[2] == "amps"
    memory.note(Review("amps", late, Rating.Good))
    assert "amps" not in names(memory, at(61), missed=missed)


def test_a_miss_is_owed_until_it_is_known_again() -> None:
    missed, memory = {OTHER: Missed(date(2030, 1, 7), frozenset({"amps"}))}, Memory()
    assert "Your graded work missed this." in [
        one.why for one in todays_set(DECK, memory, NOON, begun={LESSON}, missed=missed) if one.card.name == "amps"
    ]
    memory.note(Review("amps", NOON, Rating.Again))
    assert "amps" in names(memory, at(1), missed=missed)
    memory.note(Review("amps", at(1), Rating.Good))
    assert "amps" not in names(memory, at(2), missed=missed)


def test_nothing_is_asked_twice_a_day_or_before_its_lesson_or_past_the_minutes() -> None:
    memory = Memory()
    assert names(memory, NOON, begun={LESSON}) == ["plug", "lock", "belt"]
    memory.note(Review("plug", NOON, Rating.Again))
    assert names(memory, at(0.2), begun={LESSON}) == ["lock", "belt"]
    assert names(memory, NOON, begun=set()) == []
    assert sum(one.card.minutes for one in todays_set(cards(), Memory(), NOON, begun=set(SHEETS), minutes=1.0)) <= 1.0
    assert len(todays_set(cards(), Memory(), NOON, begun=set(SHEETS))) <= NEW_A_DAY


def test_where_everything_is() -> None:
    memory = Memory(Review("plug", at(day), Rating.Good) for day in (0, 3, 14, 60))
    memory.note(Review("lock", at(60), Rating.Again))
    now = standing(DECK, memory, at(61), begun={LESSON})
    assert (now.solid, now.known, now.fading, now.never) == (1, 0, 1, 1)
