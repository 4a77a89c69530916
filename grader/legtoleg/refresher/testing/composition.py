"""Composing: which questions a test asks of one person. All critical topics, then what they missed."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from dryerbench.core.errors import LegToLegError
from dryerbench.core.random_stream import Stream
from legtoleg.refresher.record.safety_topics import Topic
from legtoleg.refresher.testing.question_pool import PoolQuestion, pool, topic_of_question

FEWEST, MOST = 12, 15
"""How many questions a test has."""
MINUTES = 22.0
"""About how long a test may take in all."""
EXTRA = 3
"""How many questions are asked at most because their topic was missed."""
_OTHERS = {"vent-and-lint": 1, "meter-numbers": 1, "circuit-numbers": 2}
"""How many questions a topic has beside those of safety: numbers asked."""


class ComposingError(LegToLegError, RuntimeError):
    """A test that cannot be composed from the questions there are."""


def weights(missed: Mapping[str, float]) -> dict[str, float]:
    """Return how much was missed in each topic, from the weight of each missed question of the course."""
    found: dict[str, float] = {}
    for question, weight in missed.items():
        topic = topic_of_question().get(question)
        if topic is not None:
            found[topic] = found.get(topic, 0.0) + weight
    return found


def _best(
    items: Sequence[PoolQuestion], missed: Mapping[str, float], last: Collection[str], count: int
) -> list[PoolQuestion]:
    """Return ``count`` of ``items``: the bench first, then what was missed, then what was not asked last time."""
    ranked = sorted(items, key=lambda one: (not one.on_bench, -missed.get(one.name, 0.0), one.name in last))
    return ranked[:count]


def compose(
    issue: str, topics: Mapping[str, Topic], missed: Mapping[str, float], last: Collection[str] = ()
) -> list[PoolQuestion]:
    """Return the questions of ``issue``, in the order of the course.

    ``missed`` is the weight of each question that was missed; ``last`` are those asked last time. The stream of the
    issue's name breaks ties, so the same issue is composed alike anywhere.

    Raises
    ------
    ComposingError
        If a safety-critical topic has no question, or the test would be too short.
    """
    dealt = Stream(f"leg-to-leg/refresher/1/{issue}").shuffle(list(pool().values()))
    taken = [_critical(name, dealt, missed, last) for name, topic in topics.items() if topic.critical]
    for item in _besides(dealt, taken, missed, last):
        fits = sum(one.minutes for one in taken) + item.minutes <= MINUTES
        if len(taken) < FEWEST or (fits and len(taken) < MOST):
            taken.append(item)
    if len(taken) < FEWEST or not any(item.on_bench for item in taken):
        raise ComposingError(f"Only {len(taken)} questions are there; a test has {FEWEST} at least, one on the bench.")
    order = list(pool())
    return sorted(taken, key=lambda item: order.index(item.name))


def _critical(
    topic: str, dealt: Sequence[PoolQuestion], missed: Mapping[str, float], last: Collection[str]
) -> PoolQuestion:
    """Return the safety question of a safety-critical topic."""
    found = _best([item for item in dealt if item.topic == topic and item.question.safety], missed, last, 1)
    if not found:
        raise ComposingError(f"No question is there for the safety-critical topic {topic}.")
    return found[0]


def _besides(
    dealt: Sequence[PoolQuestion], taken: Sequence[PoolQuestion], missed: Mapping[str, float], last: Collection[str]
) -> list[PoolQuestion]:
    """Return what else may be asked, in the order in which it is taken: the most missed, and a number of each topic."""
    rest = [item for item in dealt if item not in taken]
    others = [
        _best([item for item in rest if item.topic == topic and not item.question.safety], missed, last, count)
        for topic, count in _OTHERS.items()
    ]
    firsts = [found[0] for found in others if found]
    numbers = [item for found in others for item in found]
    extra = [item for item in _extra(dealt, taken, missed) if item not in numbers][:EXTRA]
    return [*firsts[:1], *extra[:1], *firsts[1:], *extra[1:], *(item for found in others for item in found[1:])]


def _extra(
    dealt: Sequence[PoolQuestion], taken: Sequence[PoolQuestion], missed: Mapping[str, float]
) -> list[PoolQuestion]:
    """Return what may be asked besides, because its topic was missed: the most missed first."""
    weight = weights(missed)
    rest = [item for item in dealt if item not in taken and weight.get(item.topic, 0.0) > 0]
    return sorted(rest, key=lambda item: (-missed.get(item.name, 0.0), -weight[item.topic]))
