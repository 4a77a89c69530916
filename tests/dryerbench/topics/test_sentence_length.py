"""No sentence of a lesson has to be read twice: most stop at twenty words, and none goes on past twenty-five.

The same holds for what is made beside a lesson: questions, options, slips, drills, figures, messages of the bench,
glossary and check sheet. The limits are our own (no published source). ``LONG`` and ``LONG_MADE`` may only go down.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from caution_words import sentences
from lesson_sentences import carried, longer_than, prose
from shop_words import ROOT, said

PAGES = {path.name: path.read_text(encoding="utf-8") for path in sorted((ROOT / "solutions").glob("*.md"))}
LONG = 0
"""Sentences of all lessons that have more than twenty words."""


MADE_IN = (
    "lessons/dryerbench/",
    "lessons/WORDS.md",
    "datasets/bench_findings.csv",
    "datasets/glossary.csv",
    "datasets/witness_points.csv",
    "datasets/witness_steps.csv",
    "grader/legtoleg/templates/witness/",
    "grader/legtoleg/templates/workbook.html",
    "grader/legtoleg/templates/feedback.html",
)
MADE = [(f"{one.file}:{one.line}", one.words) for one in said() if one.file.startswith(MADE_IN)]
LONG_MADE = 4
"""Sentences of all made texts that have more than twenty words: four notes that list what a machine has."""


@pytest.mark.parametrize("page_name", PAGES)
def test_no_sentence_goes_on_past_twenty_five_words(page_name: str) -> None:
    assert list(longer_than(25, PAGES[page_name])) == []


def test_no_more_sentences_are_long_than_were() -> None:
    long = [(name, one) for name, text in PAGES.items() for one in longer_than(20, text)]
    assert len(long) == LONG, long


def test_no_more_sentences_of_made_texts_are_long_than_were() -> None:
    assert [(place, one) for place, words in MADE for one in longer_than(25, words)] == []
    long = [(place, one) for place, words in MADE for one in longer_than(20, words)]
    assert len(long) == LONG_MADE, long


def test_every_room_of_made_texts_is_read() -> None:
    assert [room for room in MADE_IN if not any(place.startswith(room) for place, _ in MADE)] == []


def test_every_lesson_is_read() -> None:
    assert len(PAGES) == 11
    assert sum(len(list(sentences(prose(text)))) for text in PAGES.values()) > 3500


WORDS = "word " * 20


@pytest.mark.parametrize(
    ("text", "found"),
    [
        (f"A {WORDS}end.\n", 1),
        (f"A {'word ' * 17}end.\n", 0),
        (f"Short. (A {WORDS}end.) Short again.\n", 1),
        (f"- {'word ' * 12}\n- {'word ' * 12}\n", 0),
        (f"| {WORDS} | {WORDS} |\n\n## {WORDS}\n\n```{{code-cell}} ipython3\n{WORDS}\n```\n", 0),
        (f"1. Say it.\n   <details><summary>Answer</summary>It {WORDS}end.</details>\n", 1),
        (f"Type `{WORDS}` and press Enter.\n", 0),
        ("You need these parts: " + "one more part, " * 7 + "and a spade.\n", 0),
        ("You need these parts: " + "this one is much too long to be a part, " * 4 + "and a spade.\n", 1),
        ("You need two: " + "a part, " * 2 + "word " * 19 + "\n", 1),
    ],
)
def test_a_long_sentence_is_found_and_a_list_of_parts_is_not(text: str, found: int) -> None:
    assert len(list(longer_than(20, text))) == found


def test_a_list_counts_up_to_its_colon() -> None:
    assert carried("The pairs are: L1 to L2, L1 to N, L2 to N, N to cabinet.") == 3
    assert carried("L1 → H1 → H3 → H5 → L2") == 0
    assert carried("Three words only.") == 3
