"""Cautions are read in a hurry: no sentence of one has more than twenty words.

A caution is a block of lines that begin with ``>`` in a lesson's source, or such a block in a page that is made. The
limit is our own (no published source). A line of a list is a sentence of its own.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from caution_words import cautions, sentences, too_long
from shop_words import PACKAGES, ROOT, literals

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
