"""Memory: how likely a card is still known, worked out from its reviews by FSRS (library ``fsrs``, its defaults)."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime
from datetime import timedelta as span

import fsrs

from dryerbench.recall.review_log import Review

KEPT = 0.9
"""The chance of knowing it at which a card is asked again, FSRS' own default."""

SOLID_DAYS = 21.0
"""A memory that takes so many days to fall to ``KEPT`` is called solid (three weeks: our own choice)."""

AHEAD_DAYS = 7.0
"""A review is judged by what it adds over so many days to come (a week: our own choice)."""

SCHEDULER = fsrs.Scheduler(desired_retention=KEPT, learning_steps=(), relearning_steps=(), enable_fuzzing=False)
"""Days only: the set is asked once a day. No fuzz, so that the same log gives the same set."""


_DECAY: float = -SCHEDULER.parameters[20]
_FACTOR: float = KEPT ** (1 / _DECAY) - 1
"""FSRS' forgetting curve: the chance is ``(1 + factor days / stability) ** decay``, and ``KEPT`` at ``stability``."""


def _days_known(stability: float, start: float, end: float) -> float:
    """Return how many of the days ``start`` to ``end`` after a review it is known: the area below FSRS' curve."""
    power = _DECAY + 1
    first, last = ((1 + _FACTOR * day / stability) ** power for day in (start, end))
    return float(stability / (_FACTOR * power) * (last - first))


class Memory:
    """What one person remembers, from the log of reviews."""

    def __init__(self, reviews: Iterable[Review] = ()) -> None:
        self._cards: dict[str, fsrs.Card] = {}
        self._last: dict[str, Review] = {}
        self._count: dict[str, int] = {}
        for review in reviews:
            self.note(review)

    def note(self, review: Review) -> None:
        """Take in one review; reviews come in the order of time."""
        card = self._cards.get(review.card) or fsrs.Card(card_id=len(self._cards) + 1, due=review.at)
        self._cards[review.card], _ = SCHEDULER.review_card(card, review.rating, review.at)
        self._last[review.card] = review
        self._count[review.card] = self._count.get(review.card, 0) + 1

    def asked(self, card: str) -> int:
        """Return how often ``card`` was asked."""
        return self._count.get(card, 0)

    def last(self, card: str) -> Review | None:
        """Return the last review of ``card``, if there was one."""
        return self._last.get(card)

    def known(self, card: str, now: datetime) -> float:
        """Return the chance (0 to 1) that ``card`` is known at ``now``; 0 if it was never asked."""
        return SCHEDULER.get_card_retrievability(self._cards[card], now) if card in self._cards else 0.0

    def gain(self, card: str, now: datetime) -> float:
        """Return what asking ``card`` now adds to the chance of knowing it, the mean over ``AHEAD_DAYS`` (0 to 1).

        It is known with FSRS' chance, then holds as after "good", and else as after "again"; both beside not asking.
        A card that was never asked counts as not known.
        """
        at, known = now.astimezone(UTC), self.known(card, now)
        held = self._cards.get(card)
        before = held or fsrs.Card(card_id=len(self._cards) + 1, due=at)
        with_it = 0.0
        for rating, chance in ((fsrs.Rating.Good, known), (fsrs.Rating.Again, 1 - known)):
            after = SCHEDULER.review_card(before, rating, at)[0].stability or 0.0
            with_it += chance * _days_known(after, 0.0, AHEAD_DAYS)
        if held is None or held.stability is None or held.last_review is None:
            return with_it / AHEAD_DAYS
        since = float(max(0, (at - held.last_review).days))
        return (with_it - _days_known(held.stability, since, since + AHEAD_DAYS)) / AHEAD_DAYS

    def due(self, card: str, now: datetime) -> bool:
        """Return whether ``card`` was asked before and is to be asked again by the end of this day."""
        if card not in self._cards:
            return False
        end = now.replace(hour=0, minute=0, second=0, microsecond=0) + span(days=1)
        return self._cards[card].due.astimezone(UTC) < end

    def solid(self, card: str) -> bool:
        """Return whether the memory of ``card`` holds for ``SOLID_DAYS``."""
        found = self._cards.get(card)
        return found is not None and (found.stability or 0.0) >= SOLID_DAYS
