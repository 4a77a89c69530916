"""Fading: what a person is about to forget, by the model of the ten minutes a day, from the ledger's tests alone.

It makes nobody due: the calendar and what is called for do that. It says which ten minutes are worth it first.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time

from fsrs import Rating

from dryerbench.recall.memory import KEPT, Memory
from dryerbench.recall.review_log import Review
from legtoleg.refresher.record.history import History
from legtoleg.refresher.record.ledger_entry import RECORDED
from legtoleg.refresher.record.safety_topics import Topic


@dataclass(frozen=True)
class Fading:
    """One topic of a person: the chance (0 to 1) that it is still known, on the day that was asked about."""

    topic: Topic
    known: float


def _noon(day: date) -> datetime:
    return datetime.combine(day, time(12), UTC)


def reviews(past: History) -> Iterator[Review]:
    """Yield how each topic went in each graded test, in the order of days: missed, partly right, or right.

    A safety question that was not answered safely counts as missed, whatever points were earned.
    """
    tests = [entry for entry in past.entries if entry.kind == RECORDED]
    for entry in sorted(tests, key=lambda one: (one.on, one.number)):
        earned: dict[str, list[tuple[float, float]]] = {}
        for asked in entry.data["questions"]:
            earned.setdefault(str(asked["topic"]), []).append((float(asked["points"]), float(asked["of"])))
        for topic, points in earned.items():
            whole = all(got >= of for got, of in points)
            right = Rating.Good if whole else Rating.Hard if any(got > 0 for got, _ in points) else Rating.Again
            yield Review(topic, _noon(entry.on), Rating.Again if topic in entry.data["held"] else right)


def fading(past: History, topics: dict[str, Topic], day: date) -> list[Fading]:
    """Return the tested topics below the chance at which a card is asked again, lowest first."""
    memory = Memory(one for one in reviews(past) if one.at <= _noon(day))
    found = [Fading(topic, memory.known(name, _noon(day))) for name, topic in topics.items() if memory.asked(name)]
    return sorted((one for one in found if one.known < KEPT), key=lambda one: (one.known, one.topic.title))
