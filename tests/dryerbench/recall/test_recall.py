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
from dryerbench.recall.daily_set import NEW_A_DAY, WORTH, Missed, standing, todays_set
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


@pytest.mark.parametrize("days", [1, 4, 30])
def test_what_asking_adds_is_the_librarys_own_curve_day_by_day(days: int) -> None:
    """Beside the library, asked for the chance at the middle of each of many short steps of the coming week."""
    fine = fsrs.Scheduler(learning_steps=(), relearning_steps=(), enable_fuzzing=False)
    card, _ = fine.review_card(fsrs.Card(), Rating.Good, NOON)

    def week(held: fsrs.Card, since: int) -> float:
        """Return the mean chance of a card a thousand times as stable on 7000 days: the library counts whole ones."""
        slow = fsrs.Card(stability=1000 * (held.stability or 0.0), last_review=NOON)
        return (
            sum(
                fine.get_card_retrievability(slow, NOON + timedelta(days=1000 * since + n, hours=12))
                for n in range(7000)
            )
            / 7000
        )

    known = fine.get_card_retrievability(card, at(days))
    right, wrong = (fine.review_card(card, rating, at(days))[0] for rating in (Rating.Good, Rating.Again))
    expected = known * week(right, 0) + (1 - known) * week(wrong, 0) - week(card, days)
    assert Memory([Review("plug", NOON, Rating.Good)]).gain("plug", at(days)) == pytest.approx(expected, abs=2e-4)


def test_what_was_never_asked_gains_most_and_what_is_solid_is_not_worth_asking() -> None:
    memory = Memory(Review("plug", at(day), Rating.Good) for day in (0, 3, 14, 60))
    memory.note(Review("belt", at(58), Rating.Again))
    gains = [memory.gain(name, at(61)) for name in ("lock", "belt", "plug")]
    assert gains == sorted(gains, reverse=True)
    assert gains[1] > 3 * WORTH > 3 * gains[2]
    assert names(memory, at(61), begun={LESSON}) == ["lock", "belt"]


def test_few_minutes_hold_short_cards_and_a_fading_safety_idea_before_them() -> None:
    memory = Memory(Review(name, NOON, Rating.Good) for name in DECK)
    assert names(memory, at(20), minutes=2.0) == ["plug", "lock", "legs", "belt"]
    assert names(memory, at(20), minutes=1.5) == ["plug", "lock", "legs"]
    assert names(memory, at(20), minutes=3.5) == ["plug", "lock", "legs", "belt", "amps"]


def test_a_fading_safety_idea_goes_before_a_new_card_that_gains_more() -> None:
    memory = Memory(Review(name, at(day), Rating.Good) for day in (0, 3, 14, 60) for name in ("plug", "lock"))
    late = at(300)
    assert 0 < memory.known("plug", late) < KEPT
    assert 2 * memory.gain("plug", late) < memory.gain("belt", late)
    assert names(memory, late, begun={LESSON}, minutes=1.0) == ["plug", "lock"]


def test_what_was_not_known_last_time_counts_double() -> None:
    deck = {name: Card(name, LESSON, False, "?", "!") for name in ("known", "missed")}
    for days in range(2, 30):
        memory = Memory([Review("known", NOON, Rating.Good), Review("missed", at(days - 1), Rating.Again)])
        known, missed = (memory.gain(name, at(days)) for name in deck)
        chosen = todays_set(deck, memory, at(days), begun={LESSON}, minutes=0.5)
        assert [one.card.name for one in chosen] == ["missed" if known < 2 * missed else "known"]
        if missed < known < 2 * missed:
            break
    else:
        pytest.fail("no day on which the double count decides")


def test_each_card_says_why() -> None:
    memory = Memory([Review("plug", NOON, Rating.Good), Review("lock", at(19), Rating.Again)])
    why = {one.card.name: one.why for one in todays_set(DECK, memory, at(20), begun={LESSON})}
    now, then = (round(100 * memory.known("plug", at(day))) for day in (20, 27))
    assert why == {
        "plug": f"Last asked 20 days ago. By now about {now} in 100 would know it; in a week, about {then}.",
        "lock": "You did not know it yesterday.",
        "belt": "New: from a lesson that you have begun.",
    }


def test_what_is_known_longer_is_asked_later() -> None:
    memory = Memory([Review("plug", NOON, Rating.Again), Review("belt", NOON, Rating.Good)])
    due = {name: next(day for day in range(1, 99) if memory.due(name, at(day))) for name in ("plug", "belt")}
    assert due["plug"] == 1 < due["belt"]
    assert not memory.due("lock", at(50))


def test_safety_comes_first_then_what_was_missed_then_what_gains_most_a_minute() -> None:
    reviews = [Review(name, at(day), Rating.Good) for day, name in ((0, "amps"), (1, "belt"), (2, "plug"), (3, "lock"))]
    memory, late = Memory(reviews), at(60)
    assert names(memory, late) == ["legs", "plug", "lock", "belt", "amps"]  # never asked counts as not known
    missed = {LESSON: Missed(at(59).date(), safety=True), OTHER: Missed(at(59).date(), frozenset({"amps"}))}
    assert names(memory, late, missed=missed) == ["plug", "lock", "legs", "amps", "belt"]
    assert names(memory, late, missed=missed, minutes=3.0) == ["plug", "lock", "legs", "amps"]
    memory.note(Review("amps", late, Rating.Good))
    assert "amps" not in names(memory, late, missed=missed)


def test_missed_safety_goes_before_fading_safety_whatever_lesson_named_it() -> None:
    named = {OTHER: Missed(NOON.date(), frozenset({"lock"}))}
    assert names(Memory(), NOON, missed=named, minutes=0.5) == ["lock"]
    assert names(Memory(), NOON, minutes=0.5) == ["plug"]
    later = {**named, LESSON: Missed(at(9).date(), frozenset({"lock"}))}
    known = Memory([Review("lock", at(5), Rating.Good)])
    assert names(known, at(9), missed=named, minutes=0.5) == ["plug"]
    assert names(known, at(9), missed=later, minutes=0.5) == ["lock"]


def test_a_miss_is_owed_until_it_is_known_again() -> None:
    missed, memory = {OTHER: Missed(date(2030, 1, 7), frozenset({"amps"}))}, Memory()
    assert "Your graded work missed this." in [
        one.why for one in todays_set(DECK, memory, NOON, begun={LESSON}, missed=missed) if one.card.name == "amps"
    ]
    memory.note(Review("amps", NOON, Rating.Again))
    assert "amps" in names(memory, at(1), missed=missed)
    memory.note(Review("amps", at(1), Rating.Good))
    why = {one.card.name: one.why for one in todays_set(DECK, memory, at(2), begun={LESSON}, missed=missed)}
    assert why["amps"].startswith("Last asked yesterday.")


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
