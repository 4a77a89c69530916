"""Today's set: the cards that about ten minutes hold, the ones that matter most first, each with its reason.

A card is chosen by what a minute of it adds over the coming week (``Memory.gain``), so that few minutes hold many
short cards, and a card that is known anyway waits. Safety that graded work missed goes before all else, then safety
that fades, then the rest of what was missed.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta

from fsrs import Rating

from dryerbench.recall.cards import Card
from dryerbench.recall.memory import AHEAD_DAYS, KEPT, Memory

MINUTES = 10.0
NEW_A_DAY = 10
"""Cards never asked before, at most, in one day: about a tenth of them all, so that none waits two weeks (our own)."""

WORTH = 0.02
"""A card is worth its minutes if asking it adds so much to the chance of knowing it over the coming week (our own)."""

COUNTS = 2.0
"""What is gained counts so many times on an idea of safety, and on what was not known last time (our own choice)."""


@dataclass(frozen=True)
class Missed:
    """What graded work missed in one lesson: the day it came back, and the cards that practice it, of any lesson.

    ``safety``: all of the lesson's safety was, which is all that notes said before they named cards.
    """

    day: date
    cards: frozenset[str] = field(default_factory=frozenset)
    safety: bool = False


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
        self._gains: dict[str, float] = {}

    def gain(self, card: Card) -> float:
        """Return what asking ``card`` today adds over the coming week; worked out once a day."""
        if card.name not in self._gains:
            self._gains[card.name] = self.memory.gain(card.name, self.now)
        return self._gains[card.name]

    def owed(self, card: Card) -> bool:
        """Return whether graded work missed it, and it was not known since."""
        days = [
            one.day
            for lesson, one in self.missed.items()
            if card.name in one.cards or (one.safety and card.safety and lesson == card.lesson)
        ]
        last = self.memory.last(card.name)
        if not days or last is None:
            return bool(days)
        return last.at.astimezone(self.now.tzinfo).date() < max(days) or last.rating is Rating.Again

    def asked_today(self, card: Card) -> bool:
        last = self.memory.last(card.name)
        return last is not None and last.at.astimezone(self.now.tzinfo).date() == self.now.date()

    def rank(self, card: Card) -> tuple[int, float]:
        """Return the place of ``card`` in line, lowest first: missed safety, fading safety, what else was missed.

        The rest follows, and in each place the most gain by the minute is first.
        """
        owed, last = self.owed(card), self.memory.last(card.name)
        fading = card.safety and self.memory.known(card.name, self.now) < KEPT
        lapsed = last is not None and last.rating is Rating.Again
        gain = self.gain(card) * COUNTS ** (card.safety + lapsed)
        place = 0 if card.safety and owed else 1 if fading else 2 if owed else 3
        return place, -gain / card.minutes

    def worth(self, card: Card) -> bool:
        """Return whether asking ``card`` is worth its minutes."""
        return self.owed(card) or self.gain(card) >= WORTH

    def why(self, card: Card) -> str:
        """Return the reason for asking ``card``."""
        last = self.memory.last(card.name)
        if self.owed(card):
            return "Your graded work missed this."
        if last is None:
            return "New: from a lesson that you have begun."
        when = _days((self.now - last.at).days)
        if last.rating is Rating.Again:
            return f"You did not know it {when}."
        known, later = (
            round(100 * self.memory.known(card.name, self.now + timedelta(days=ahead))) for ahead in (0, AHEAD_DAYS)
        )
        return f"Last asked {when}. By now about {known} in 100 would know it; in a week, about {later}."

    def fill(self, line: Iterable[Card], minutes: float, new: int) -> list[Card]:
        """Return the cards of ``line`` that ``minutes`` hold, at most ``new`` of them never asked and not owed."""
        chosen = []
        for card in line:
            fresh = not self.memory.asked(card.name) and not self.owed(card)
            if card.minutes <= minutes and not (fresh and new <= 0):
                chosen.append(card)
                minutes -= card.minutes
                new -= fresh
        return chosen


def todays_set(
    cards: Mapping[str, Card],
    memory: Memory,
    now: datetime,
    *,
    begun: Collection[str],
    missed: Mapping[str, Missed] | None = None,
    minutes: float = MINUTES,
) -> list[Asked]:
    """Return the cards for ``now``, in the order to ask them: safety, then what graded work missed, then the rest.

    New cards are of lessons ``begun``, at most ``NEW_A_DAY``; the set ends when ``minutes`` are full, or when no card
    is worth them.
    """
    day = _Day(memory, missed or {}, now)
    today = [one for one in cards.values() if day.asked_today(one)]
    could = [
        one
        for one in cards.values()
        if not day.asked_today(one) and (one.lesson in begun or memory.asked(one.name) or day.owed(one))
    ]
    line = sorted(filter(day.worth, could), key=day.rank)
    new = NEW_A_DAY - sum(memory.asked(one.name) == 1 for one in today)
    chosen = day.fill(line, minutes - sum(one.minutes for one in today), new)
    chosen.sort(key=lambda one: (not one.safety, not day.owed(one)))
    return [Asked(one, day.why(one)) for one in chosen]


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
