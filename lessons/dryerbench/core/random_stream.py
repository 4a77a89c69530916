"""A machine of one's own: a stream of numbers that is the same for one seed on every computer, for ever.

The stream is SHA-256 in counter mode. Block number n is SHA-256 of the seed text in UTF-8, one zero byte, and n as
eight bytes, the highest first. The blocks are cut into words of eight bytes, read as whole numbers, the highest
byte first. A number from 0 to n - 1 is a word modulo n, where words at or above the largest multiple of n that fits
in 64 bits are passed over. Nothing else is drawn from, so no library's generator can change a machine.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from decimal import Decimal
from typing import TypeVar

T = TypeVar("T")
_WORDS = 2**64


class Stream:
    """The numbers that follow from one seed text."""

    def __init__(self, seed: str) -> None:
        self._seed = seed.encode("utf-8")
        self._block = 0
        self._bytes = b""

    def word(self) -> int:
        """Return the next whole number from 0 to 2**64 - 1."""
        if not self._bytes:
            counter = self._block.to_bytes(8, "big")
            self._bytes = hashlib.sha256(self._seed + b"\x00" + counter).digest()
            self._block += 1
        head, self._bytes = self._bytes[:8], self._bytes[8:]
        return int.from_bytes(head, "big")

    def integer(self, low: int, high: int) -> int:
        """Return a whole number from ``low`` to ``high``, both included.

        Raises
        ------
        ValueError
            If ``high`` is below ``low``.
        """
        if high < low:
            raise ValueError(f"No whole number lies from {low} to {high}.")
        span = high - low + 1
        limit = _WORDS - _WORDS % span
        word = self.word()
        while word >= limit:
            word = self.word()
        return low + word % span

    def step(self, low: str, high: str, step: str) -> float:
        """Return one of ``low``, ``low + step``, … ``high``; decimal text, so that no rounding enters."""
        first, last, width = Decimal(low), Decimal(high), Decimal(step)
        return float(first + width * self.integer(0, int((last - first) / width)))

    def choose(self, options: Sequence[T]) -> T:
        """Return one of ``options``.

        Raises
        ------
        ValueError
            If there are none.
        """
        return options[self.integer(0, len(options) - 1)]

    def shuffle(self, options: Sequence[T]) -> list[T]:
        """Return ``options`` in an order of the stream's own (Fisher and Yates)."""
        order = list(options)
        for last in range(len(order) - 1, 0, -1):
            other = self.integer(0, last)
            order[last], order[other] = order[other], order[last]
        return order

    def beside(self, name: str) -> Stream:
        """Return a stream of its own, whose seed text is this one's, a slash and ``name``; this one stays as it is."""
        return Stream(f"{self._seed.decode('utf-8')}/{name}")


def seed_of(apprentice: str, lesson: str, try_number: int = 1) -> str:
    """Return the seed text of one apprentice's machine in one lesson; each try after the first deals another."""
    first = f"leg-to-leg/1/{lesson}/{apprentice}"
    return first if try_number == 1 else f"{first}/try-{try_number}"


def stream_for(apprentice: str, lesson: str, try_number: int = 1) -> Stream:
    """Return the stream of one apprentice's machine in one lesson, dealt for the ``try_number``-th time."""
    return Stream(seed_of(apprentice, lesson, try_number))
