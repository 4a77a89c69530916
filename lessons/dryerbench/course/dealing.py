"""Dealing what a question offers on one card: by streams of its own, so that the card's numbers stay as they are.

Every stream starts from the seed of the card, so that a new card after a hold deals anew. Nothing here knows what is
right: how many of the options fit on a card follows from what was dealt.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

from dryerbench.core.random_stream import Stream
from dryerbench.course.job_card import JobCard

T = TypeVar("T")


def stream_of(card: JobCard, what: str) -> Stream:
    """Return the stream that deals ``what`` on ``card``; the letters of the question ``what`` have another one."""
    return Stream(f"{card.seed}/{what}/dealt")


def dealt(card: JobCard, what: str, choices: Sequence[T]) -> T:
    """Return the one of ``choices`` that is dealt to ``card`` as its ``what``."""
    return stream_of(card, what).choose(choices)


def offered(card: JobCard, what: str, keys: Sequence[str], count: int) -> tuple[str, ...]:
    """Return ``count`` of ``keys``, sorted, as the question ``what`` offers them on ``card``."""
    return tuple(sorted(stream_of(card, what).shuffle(sorted(keys))[:count]))
