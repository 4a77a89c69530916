"""A simulated forgetter: somebody whose memory follows FSRS' own published model, with a strength of their own.

    python tests/dryerbench/recall/simulated_forgetter.py [PEOPLE]

Sixty days, four ways: the sets of the ten minutes a day; a fixed order, round and round, in all the minutes offered;
the fixed order in no more minutes than this person's sets took; no practice after the lessons.

Each card is known or not by a throw against the model's chance. The person learns by the model with weights that make
them forget faster or slower than the ones that choose the sets, so that the scheduler is not told the truth. Nor does
it know when the lessons were, or how well each idea was learned there. Retention is the chance of knowing a card, the
mean over the cards: at the end of each day, the mean over the days; and at the end of the last.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from statistics import fmean, stdev

import fsrs
from fsrs import Rating

from dryerbench.core.random_stream import Stream
from dryerbench.recall.cards import Card, cards
from dryerbench.recall.daily_set import MINUTES, todays_set
from dryerbench.recall.memory import Memory
from dryerbench.recall.review_log import Review

START = datetime(2030, 1, 7, 17, 0, tzinfo=UTC)
SETS, FIXED, SAME, NONE = WAYS = ("daily sets", "fixed order", "fixed, same minutes", "no practice")

STRENGTHS = (0.25, 0.5, 1.0, 2.0)
"""How many times as long as by FSRS' defaults a memory holds after the lessons (our own spread)."""

FIRST = {Rating.Again: 240, Rating.Hard: 94, Rating.Good: 495, Rating.Easy: 171}
"""How a card first goes, of 1000: the defaults of the simulator in the open FSRS optimizer (read)."""


@dataclass(frozen=True)
class Life:
    """What somebody offers: minutes a day; whether the lessons left ideas unevenly; the days missed, of 100."""

    minutes: float = MINUTES
    uneven: bool = False
    missed: int = 0
    days: int = 60


@dataclass(frozen=True)
class Kept:
    """The chance of knowing a card, mean over the days and at the end, of safety, drills and all; minutes a day.

    ``low`` is the mean of the lowest tenth of the cards at the end: whether any are left to fade.
    """

    safety: float
    every: float
    safety_end: float
    every_end: float
    drills_end: float
    low: float
    minutes: float


FIGURES = tuple(Kept.__dataclass_fields__)


class Person:
    """Somebody whose stabilities are ``strength`` times what FSRS' defaults say."""

    def __init__(self, seed: str, strength: float) -> None:
        defaults = list(fsrs.Scheduler().parameters)
        defaults[:4] = [found * strength for found in defaults[:4]]  # the first stabilities, in days
        self.model = fsrs.Scheduler(defaults, learning_steps=(), relearning_steps=(), enable_fuzzing=False)
        self.stream, self.held = Stream(seed), dict[str, fsrs.Card]()

    def knows(self, card: str, now: datetime) -> float:
        return self.model.get_card_retrievability(self.held[card], now) if card in self.held else 0.0

    def learns(self, card: str, rating: Rating, now: datetime) -> None:
        before = self.held.get(card) or fsrs.Card(card_id=len(self.held) + 1, due=now)
        self.held[card], _ = self.model.review_card(before, rating, now)

    def meets(self, card: str, now: datetime) -> Rating:
        """Answer ``card``, learn from it, and return how it went."""
        rating = Rating.Good if self.stream.integer(0, 999) < 1000 * self.knows(card, now) else Rating.Again
        self.learns(card, rating, now)
        return rating


class _Round:
    """The fixed order, round and round; minutes that no card filled are kept for the next day."""

    def __init__(self, asked: Mapping[str, Card]) -> None:
        self.asked, self.place, self.left = list(asked.values()), 0, 0.0

    def today(self, minutes: float) -> list[Card]:
        self.left += minutes
        found: list[Card] = []
        while len(found) < len(self.asked) and (one := self.asked[self.place]).minutes <= self.left + 1e-9:
            found.append(one)
            self.left, self.place = self.left - one.minutes, (self.place + 1) % len(self.asked)
        return found


def _from_lessons(seed: str, strength: float, asked: Mapping[str, Card], *, uneven: bool) -> Person:
    """Return the person on day 0, straight out of the lessons."""
    person, thrown = Person(seed, strength), Stream(f"{seed}/lessons")
    pool = [rating for rating, count in FIRST.items() for _ in range(count)]
    for name in asked:
        person.learns(name, thrown.choose(pool) if uneven else Rating.Good, START)
    return person


def _days_there(seed: str, life: Life) -> list[int]:
    """Return the days on which the person sits down at all, the same in every way."""
    thrown = Stream(f"{seed}/days")
    return [day for day in range(1, life.days + 1) if thrown.integer(0, 99) >= life.missed]


def live(way: str, seed: str, strength: float, asked: Mapping[str, Card], life: Life) -> Kept:
    """Return what somebody keeps in a ``life`` of ``way``; the lessons came on day 0."""
    person, memory = _from_lessons(seed, strength, asked, uneven=life.uneven), Memory()
    lessons, fixed, spent = {one.lesson for one in asked.values()}, _Round(asked), 0.0
    there, known, each = _days_there(seed, life), dict[str, float](), list[tuple[float, float]]()
    for day in range(1, life.days + 1):
        now, today = START + timedelta(days=day), list[Card]()
        if day in there and way == SETS:
            today = [one.card for one in todays_set(asked, memory, now, begun=lessons, minutes=life.minutes)]
        elif day in there and way in (FIXED, SAME):
            today = fixed.today(life.minutes)
        for card in today:
            memory.note(Review(card.name, now, person.meets(card.name, now)))
            spent += card.minutes
        known = {name: person.knows(name, now + timedelta(hours=6)) for name in asked}
        each.append((fmean(known[name] for name in asked if asked[name].safety), fmean(known.values())))
    lowest = sorted(known.values())[: max(1, len(known) // 10)]
    drills = [known[name] for name, one in asked.items() if one.is_drill]
    means = [fmean(values) for values in zip(*each, strict=True)]
    return Kept(*means, *each[-1], fmean(drills), fmean(lowest), spent / life.days)


STRANGERS = 100
"""The number of the first person: the choice of cards was tuned on numbers 0 to 23, so they can't prove it."""


def table(people: int, life: Life) -> dict[str, list[Kept]]:
    """Return for each way what each of ``people`` keeps, memories of all strengths."""
    found: dict[str, list[Kept]] = {way: [] for way in WAYS}
    for n in range(STRANGERS, STRANGERS + people):
        for way in WAYS:
            given = life
            if way == SAME:
                offered = found[SETS][-1].minutes * life.days / len(_days_there(f"forgetter/{n}", life))
                given = replace(life, minutes=offered)
            found[way].append(live(way, f"forgetter/{n}", STRENGTHS[n % 4], cards(), given))
    return found


def mean(kept: list[Kept]) -> Kept:
    """Return the mean over the people."""
    return Kept(*(fmean(getattr(one, name) for one in kept) for name in FIGURES))


def ahead(better: list[Kept], than: list[Kept]) -> dict[str, tuple[float, float]]:
    """Return for each figure how far the same people are ``better``: the mean, and its spread from one to another."""
    by = {name: [getattr(a, name) - getattr(b, name) for a, b in zip(better, than, strict=True)] for name in FIGURES}
    return {name: (fmean(values), stdev(values)) for name, values in by.items()}


LIVES = {
    "10 min": Life(),
    "5 min": Life(5.0),
    "3 min": Life(3.0),
    "2 min": Life(2.0),
    "10 min, ideas unevenly learned": Life(uneven=True),
    "3 min, ideas unevenly learned": Life(3.0, uneven=True),
    "10 min, half of the days missed": Life(missed=50),
    "3 min, half of the days missed, unevenly learned": Life(3.0, uneven=True, missed=50),
}
"""What the table walks through."""


def _print_table(people: int) -> None:
    for name, life in LIVES.items():
        found = table(people, life)
        print(name)  # noqa: T201
        for way, kept in found.items():
            print(f"  {way:20}", *(f"{figure} {getattr(mean(kept), figure):.3f}" for figure in FIGURES))  # noqa: T201
        gains = ahead(found[SETS], found[SAME]).items()
        print(f"  {'ahead':20}", *(f"{figure} {by:+.3f}±{spread:.3f}" for figure, (by, spread) in gains))  # noqa: T201


if __name__ == "__main__":
    _print_table(int(sys.argv[1]) if len(sys.argv) > 1 else 12)
