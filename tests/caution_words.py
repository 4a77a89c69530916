"""Cautions: where they stand in a text, and how long their sentences are.

The limit is our own (no published source): cautions are read in a hurry. A line of a list is a sentence of its own.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

LONGEST = 20
"""The most words that a sentence of a caution may have."""

_END = re.compile(r"(?<=[.!?])[\"”)]*\s+(?=[A-Z0-9“\"(])")


def cautions(text: str) -> Iterator[str]:
    """Yield each block of caution in a Markdown ``text``, without the marks at the start of its lines."""
    for block in re.findall(r"(?m)(?:^>.*(?:\n|\Z))+", re.sub(r"```.*?```", "", text, flags=re.DOTALL)):
        yield re.sub(r"(?m)^> ?", "", block)


def sentences(block: str) -> Iterator[str]:
    """Yield the sentences of a caution; each line of a list begins one."""
    for item in re.split(r"\n\s*(?=\d+\. |- )|\n\s*\n", block):
        plain = re.sub(r"\s+", " ", re.sub(r"^\s*(\d+\.|-) |[*⚠]", "", item)).strip()
        yield from (one for one in _END.split(plain) if one)


def count(sentence: str) -> int:
    """Return the number of words."""
    return len(re.findall(r"\w[\w'’°Ω/.-]*", sentence))


def too_long(text: str) -> list[str]:
    """Return the sentences of cautions in ``text`` that are longer than they may be."""
    return [one for block in cautions(text) for one in sentences(block) if count(one) > LONGEST]


DANGER = re.compile(
    r"(?i)\b(kill\w*|shock\w*|deadly|dead|live|die|lock(?!ed-down)\w*|unlock\w*|burn\w*|fires?|gloves?|danger\w*|hurt\w*|hazard\w*|"
    r"cautions?|injur\w*|arcs?|burst|explode\w*|blow up|(?:un)?plug(?:ged|s)?|touch\w*|energized)\b|⚠"
)
"""What a text says that speaks of danger, or of what keeps from it."""


def long_warnings(text: str) -> list[str]:
    """Return the sentences of ``text`` that speak of danger and are longer than a caution's may be."""
    plain = re.sub(r"(?m)^> ?", "", text)
    return [one for one in sentences(plain) if DANGER.search(one) and count(one) > LONGEST]
