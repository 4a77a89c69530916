"""A trade word is explained where it is first met: by a link to the page of words, or there in bold.

Headings and lists of lessons are names, and do not count. A word that was explained in one lesson is known in the later
ones. The lessons are read as they are built, from the start page on.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping

import pytest

from dryerbench.registry import SHEETS
from legtoleg.authoring.lesson_source import solved_notebook, start_page
from legtoleg.authoring.word_page import PAGE, glossary

_LINK = re.compile(rf"\[([^\]]*)\]\(\.\./{re.escape(PAGE)} \"[^\"]*\"\)")
_NAMES = re.compile(r"^\s*(#|- \[|!\[|```)")
_CODE = re.compile(r"`[^`]*`|\$[^$]*\$|\]\([^)]*\)|<[^>]*>")


def _finds(word: str) -> str:
    """Return the pattern of ``word``, also in the plural; capitals count in short forms."""
    return re.escape(word) if word.isupper() else f"(?i:{re.escape(word)}(?:s|es)?)"


def uses(text: str, words: Iterable[str]) -> Iterator[tuple[str, bool]]:
    """Yield each use of one of ``words`` in a Markdown ``text``, in order, and whether it is explained there."""
    longest = sorted(words, key=len, reverse=True)
    found = re.compile(rf"(?<![\w-])(?:{'|'.join(f'({_finds(word)})' for word in longest)})(?![\w-])")
    for line in text.split("\n"):
        if _NAMES.match(line):
            continue
        marked = _CODE.sub(" ", _LINK.sub("\x01\\1\x02", line))
        for match in found.finditer(marked):
            linked = marked.rfind("\x01", 0, match.start()) > marked.rfind("\x02", 0, match.start())
            bold = marked[: match.start()].endswith("**") and marked[match.end() :].startswith("**")
            yield longest[(match.lastindex or 1) - 1], linked or bold


def unexplained(lessons: Mapping[str, Iterable[str]], words: Iterable[str]) -> list[tuple[str, str]]:
    """Return lesson and word of each first use that nothing explains, nor did an earlier lesson."""
    known, wrong, words = set[str](), list[tuple[str, str]](), list(words)
    for lesson, texts in lessons.items():
        first: dict[str, bool] = {}
        for text in texts:
            for word, explained in uses(text, words):
                first.setdefault(word, explained)
        wrong += [(lesson, word) for word, explained in first.items() if not explained and word not in known]
        known |= first.keys()
    return wrong


def course() -> dict[str, list[str]]:
    """Return the texts of the start page and of each lesson, in order, as they are built."""
    pages = {"00_start": start_page(), **{lesson: solved_notebook(lesson) for lesson in SHEETS}}
    return {
        lesson: [cell.source for cell in page.cells if cell.cell_type == "markdown"] for lesson, page in pages.items()
    }


def test_every_trade_word_is_explained_where_it_is_first_met() -> None:
    assert unexplained(course(), glossary()) == []


def test_every_word_of_the_page_is_met_in_the_lessons() -> None:
    met = {word for texts in course().values() for text in texts for word, _ in uses(text, glossary())}
    assert set(glossary()) - met == set()


LINKED = f'[spade](../{PAGE} "the push-on end of a wire")'


@pytest.mark.parametrize(
    ("first", "then", "wrong"),
    [
        ("Pull the spade.", "A spade.", [("a", "spade")]),
        ("> **Caution.** The spades are live.", f"Pull the {LINKED}.", [("a", "spade")]),
        (f"Pull the {LINKED}.", "| a spade | 1 |", []),
        ("A **spade** is the end of a wire.", "Pull it.", []),
        ("# The spade", f"The {LINKED}.", []),
        ("It reads OL, olé.", "", [("a", "OL")]),
        ("Type `spade`.", "Spade.", [("b", "spade")]),
        ("**Pull the spade** off.", "", [("a", "spade")]),
    ],
)
def test_a_word_that_nobody_explained_is_found(first: str, then: str, wrong: list[tuple[str, str]]) -> None:
    assert unexplained({"a": [first], "b": [then]}, ["OL", "spade"]) == wrong
