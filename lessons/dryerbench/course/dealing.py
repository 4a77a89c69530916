"""Dealing what a question offers on one card: by streams of its own, so that the card's numbers stay as they are."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, TypeVar

from dryerbench.core.random_stream import Stream

T = TypeVar("T")


def stream_of(card: Any, what: str) -> Stream:
    """Return the stream that deals ``what`` on ``card``."""
    return Stream(f"leg-to-leg/1/{card.lesson}/{card.apprentice}/{what}")


def dealt(card: Any, what: str, choices: Sequence[T]) -> T:
    """Return the one of ``choices`` that is dealt to ``card`` as its ``what``."""
    return stream_of(card, what).choose(choices)


def some_of(
    card: Any, what: str, fitting: Sequence[str], rest: Sequence[str], fewest: int, most: int, offered: int
) -> tuple[str, ...]:
    """Return ``offered`` keys for a question that wants all that fit: from ``fewest`` to ``most`` of ``fitting``."""
    stream = stream_of(card, what)
    right = stream.integer(fewest, most)
    return (*stream.shuffle(fitting)[:right], *stream.shuffle(rest)[: offered - right])
