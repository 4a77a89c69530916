"""A simulated forgetter: somebody whose memory follows FSRS' own published model, with a strength of their own.

    python tests/dryerbench/recall/simulated_forgetter.py

Sixty days, four ways: the ten-minute sets; ten minutes a day in a fixed order, round and round; the fixed order with no
more minutes than the sets took; no practice after the lessons.

Each card is known or not by a throw against the model's chance. The person learns by the model with weights that make
them forget faster or slower than the ones that choose the sets, so that the scheduler is not told the truth.
Retention is the chance of knowing a card, mean over the cards, at the end of a day.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import fsrs
from fsrs import Rating

from dryerbench.core.random_stream import Stream
from dryerbench.recall.cards import Card, cards
from dryerbench.recall.daily_set import MINUTES, todays_set
from dryerbench.recall.memory import Memory
from dryerbench.recall.review_log import Review

START = datetime(2030, 1, 7, 17, 0, tzinfo=UTC)
SETS, FIXED, SAME, NONE = WAYS = ("ten-minute sets", "fixed order", "fixed, same minutes", "no practice")


class Person:
    """Somebody whose stabilities are ``strength`` times what FSRS' defaults say."""

    def __init__(self, seed: str, strength: float) -> None:
        defaults = list(fsrs.Scheduler().parameters)
        defaults[:4] = [found * strength for found in defaults[:4]]  # the first stabilities, in days
        self.model = fsrs.Scheduler(defaults, learning_steps=(), relearning_steps=(), enable_fuzzing=False)
        self.stream, self.held = Stream(seed), dict[str, fsrs.Card]()

    def knows(self, card: str, now: datetime) -> float:
        return self.model.get_card_retrievability(self.held[card], now) if card in self.held else 0.0

    def meets(self, card: str, now: datetime) -> Rating:
        """Answer ``card``, learn from it, and return how it went."""
        rating = Rating.Good if self.stream.integer(0, 999) < 1000 * self.knows(card, now) else Rating.Again
        before = self.held.get(card) or fsrs.Card(card_id=len(self.held) + 1, due=now)
        self.held[card], _ = self.model.review_card(before, rating, now)
        return rating


@dataclass(frozen=True)
class Kept:
    """The mean chance of knowing a card, of safety and of all; and the minutes spent a day, mean."""

    safety: float
    every: float
    minutes: float


def live(
    way: str, seed: str, strength: float, asked: Mapping[str, Card], days: int = 60, minutes: float = MINUTES
) -> Kept:
    """Return what somebody keeps after ``days`` of ``way``; the lessons came on day 0."""
    person, memory, spent, place = Person(seed, strength), Memory(), 0.0, 0
    lessons, names = {one.lesson for one in asked.values()}, list(asked)
    for name in names:
        person.held[name], _ = person.model.review_card(fsrs.Card(card_id=1, due=START), Rating.Good, START)
    for day in range(1, days + 1):
        now, left = START + timedelta(days=day), day * minutes - spent
        if way == SETS:
            today = [one.card for one in todays_set(asked, memory, now, begun=lessons, minutes=minutes)]
        else:
            today = []
            while way in (FIXED, SAME) and asked[names[place % len(names)]].minutes <= left and len(today) < len(names):
                today.append(asked[names[place % len(names)]])
                left, place = left - today[-1].minutes, place + 1
        for card in today:
            memory.note(Review(card.name, now, person.meets(card.name, now)))
            spent += card.minutes
    end = START + timedelta(days=days, hours=23)
    known = {name: person.knows(name, end) for name in names}
    safety = [known[name] for name in names if asked[name].safety]
    return Kept(sum(safety) / len(safety), sum(known.values()) / len(known), spent / days)


def table(people: int = 12, days: int = 60, minutes: float = MINUTES) -> dict[str, Kept]:
    """Return for each way what ``people`` keep on the average, memories of all strengths, by ``minutes`` a day."""
    found: dict[str, Kept] = {}
    for way in WAYS:
        given = found[SETS].minutes if way == SAME else minutes
        strengths = ((n, (0.25, 0.5, 1.0, 2.0)[n % 4]) for n in range(people))
        each = [live(way, f"forgetter/{n}", strength, cards(), days, given) for n, strength in strengths]
        found[way] = Kept(*(sum(values) / people for values in zip(*((k.safety, k.every, k.minutes) for k in each),
                                                                      strict=True)))  # fmt: skip
    return found


if __name__ == "__main__":
    for minutes in (10.0, 3.0):
        for way, kept in table(int(sys.argv[1]) if len(sys.argv) > 1 else 12, minutes=minutes).items():
            figures = f"safety {kept.safety:.2f}  all {kept.every:.2f}  minutes a day {kept.minutes:.1f}"
            print(f"up to {minutes:4.1f} min  {way:19}  {figures}")  # noqa: T201
