"""Today's set: the cards that about ten minutes hold, the ones that matter most first, each with its reason."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime

from fsrs import Rating

from dryerbench.recall.cards import Card
from dryerbench.recall.memory import Memory

MINUTES = 10.0
NEW_A_DAY = 6
"""Cards never asked before, at most, in one day."""


@dataclass(frozen=True)
class Missed:
    """What graded work missed in one lesson: the day it came back, the drills of its kind, and whether safety was."""

    day: date
    drills: frozenset[str] = field(default_factory=frozenset)
    safety: bool = False

    def has(self, card: Card) -> bool:
        """Return whether ``card``, of this lesson, practices something that was missed."""
        return card.name in self.drills or (self.safety and card.safety)


@dataclass(frozen=True)
class Asked:
    """A card in today's set, and why it is there."""

    card: Card
    why: str


def _days(count: int) -> str:
    return "today" if count == 0 else "yesterday" if count == 1 else f"{count} days ago"


class _Day:
    """One day: who remembers what, and what graded work missed."""

    def __init__(self, memory: Memory, missed: Mapping[str, Missed], now: datetime) -> None:
        self.memory, self.missed, self.now = memory, missed, now

    def owed(self, card: Card) -> bool:
        """Return whether graded work missed it, and it was not known since."""
        found, last = self.missed.get(card.lesson), self.memory.last(card.name)
        if found is None or not found.has(card):
            return False
        day = last.at.astimezone(self.now.tzinfo).date() if last else None
        return last is None or day is None or day < found.day or last.rating is Rating.Again

    def asked_today(self, card: Card) -> bool:
        last = self.memory.last(card.name)
        return last is not None and last.at.astimezone(self.now.tzinfo).date() == self.now.date()

    def why(self, card: Card) -> str:
        """Return the reason for asking ``card``; empty if there is none but that it is new."""
        last = self.memory.last(card.name)
        if self.owed(card):
            return "Your graded work missed this."
        if last is None or not self.memory.due(card.name, self.now):
            return ""
        when = _days((self.now - last.at).days)
        if last.rating is Rating.Again:
            return f"You did not know it {when}."
        known = round(100 * self.memory.known(card.name, self.now))
        return f"Last asked {when}. By now about {known} in 100 would know it."


def todays_set(
    cards: Mapping[str, Card],
    memory: Memory,
    now: datetime,
    *,
    begun: Collection[str],
    missed: Mapping[str, Missed] | None = None,
    minutes: float = MINUTES,
) -> list[Asked]:
    """Return the cards for ``now``, first what comes first: safety, then what graded work missed, then what fades most.

    New cards come last, only of lessons ``begun`` and at most ``NEW_A_DAY``; the set ends when ``minutes`` are full.
    """
    day = _Day(memory, missed or {}, now)
    open_cards = [one for one in cards.values() if not day.asked_today(one)]
    old = [Asked(one, why) for one in open_cards if (why := day.why(one))]
    old.sort(key=lambda it: (not it.card.safety, not day.owed(it.card), memory.known(it.card.name, now)))
    fresh = [one for one in open_cards if one.lesson in begun and not memory.asked(one.name) and not day.owed(one)]
    fresh.sort(key=lambda one: not one.safety)
    already = sum(memory.asked(one.name) == 1 and day.asked_today(one) for one in cards.values())
    new = [Asked(one, "New: from a lesson that you have begun.") for one in fresh[: max(0, NEW_A_DAY - already)]]
    left = minutes - sum(one.minutes for one in cards.values() if day.asked_today(one))
    chosen = []
    for asked in [*old, *new]:
        if asked.card.minutes <= left:
            chosen.append(asked)
            left -= asked.card.minutes
    return chosen


@dataclass(frozen=True)
class Standing:
    """How many cards of the lessons begun are solid, known for now, fading, or were never asked."""

    solid: int
    known: int
    fading: int
    never: int


def standing(cards: Mapping[str, Card], memory: Memory, now: datetime, *, begun: Collection[str]) -> Standing:
    """Return where the cards of the lessons ``begun`` are."""
    ours = [one.name for one in cards.values() if one.lesson in begun or memory.asked(one.name)]
    asked = [name for name in ours if memory.asked(name)]
    fading = [name for name in asked if memory.due(name, now)]
    solid = [name for name in asked if memory.solid(name) and name not in fading]
    return Standing(len(solid), len(asked) - len(fading) - len(solid), len(fading), len(ours) - len(asked))
