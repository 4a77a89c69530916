"""Cautions are read in a hurry: no sentence of one has more than twenty words.

A caution is a block of lines that begin with ``>`` in a lesson's source, or such a block in a page that is made. The
limit is our own (no published source). A line of a list is a sentence of its own.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from shop_words import PACKAGES, ROOT, literals

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


PAGES = {path.name: path.read_text(encoding="utf-8") for path in sorted((ROOT / "solutions").glob("*.md"))}
MADE = {
    f"{path.name}:{line}": words
    for room in PACKAGES
    for path in sorted(room.rglob("*.py"))
    for line, words in literals(path.read_text(encoding="utf-8"))
    if words.startswith("> ")
}


@pytest.mark.parametrize("page_name", [*PAGES, *MADE])
def test_no_sentence_of_a_caution_is_long(page_name: str) -> None:
    assert too_long({**PAGES, **MADE}[page_name]) == []


def test_every_lesson_and_the_made_pages_have_cautions() -> None:
    assert all(list(cautions(text)) for text in PAGES.values())
    assert len(MADE) >= 2
    assert sum(len(list(sentences(block))) for text in PAGES.values() for block in cautions(text)) > 200


@pytest.mark.parametrize(
    ("text", "found"),
    [
        (f"> {'word ' * 20}end.\n", 1),
        (f"> {'word ' * 19}end.\n", 0),
        (f"> 1. {'word ' * 12}\n> 2. {'word ' * 12}\n", 0),
        (f"> Stop. {'word ' * 12}\n> {'word ' * 12}\n", 1),
        (f"{'word ' * 40}\n", 0),
    ],
)
def test_a_long_sentence_is_found(text: str, found: int) -> None:
    assert len(too_long(text)) == found
