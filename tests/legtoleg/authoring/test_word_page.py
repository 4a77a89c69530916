"""The glossary: each word in plain words, explained by words of its own or everyday ones, and linked once a lesson."""

from __future__ import annotations

import re

import pytest
from nbformat.v4 import new_code_cell, new_markdown_cell

from dryerbench.registry import SHEETS
from legtoleg.authoring.building import built_path
from legtoleg.authoring.lesson_source import solved_notebook, source_path
from legtoleg.authoring.word_page import PAGE, WordLinks, glossary, link_words, page_text
from legtoleg.core.paths import course_folder

LINK = re.compile(r"\[([^\]]+)\]\(\.\./WORDS\.md \"([^\"]+)\"\)")


def own_words(lesson: str) -> str:
    """Return the words of a lesson's source without cells and bold, one space between words."""
    text = re.sub(r"```.*?```", " ", source_path(lesson).read_text(encoding="utf-8"), flags=re.DOTALL)
    return re.sub(r"\s+", " ", text.replace("*", ""))


def test_the_page_is_fresh() -> None:
    assert (course_folder("lessons") / PAGE).read_text(encoding="utf-8") == page_text(), "run legtoleg build"


def test_every_word_is_explained_and_in_its_place() -> None:
    words = list(glossary())
    assert len(words) > 45
    assert words == sorted(words, key=str.lower)
    for word, (meaning, _) in glossary().items():
        assert 2 <= len(meaning.split()) <= 20, word
        assert not re.search(rf"(?i)^(an? )?{re.escape(word)}$", meaning), word
        assert '"' not in meaning, word


@pytest.mark.parametrize("lesson", SHEETS)
def test_a_lesson_links_each_word_once_and_as_the_page_explains_it(lesson: str) -> None:
    found = [
        link
        for cell in solved_notebook(lesson).cells
        if cell.cell_type == "markdown"
        for link in LINK.findall(cell.source)
    ]
    meanings = [meaning for _, meaning in found]
    assert len(found) >= 8
    assert len(set(meanings)) == len(meanings)
    assert set(meanings) <= {meaning for meaning, _ in glossary().values()}


@pytest.mark.parametrize("lesson", SHEETS)
def test_links_change_no_word(lesson: str) -> None:
    built = built_path(lesson).read_text(encoding="utf-8")
    assert LINK.search(built.replace('\\"', '"'))
    for cell in solved_notebook(lesson).cells:
        if cell.cell_type == "markdown" and cell.id.startswith("markdown-"):
            plain = re.sub(r"\s+", " ", LINK.sub(r"\1", cell.source).replace("*", ""))
            assert plain.strip() in own_words(lesson)


def test_a_word_is_linked_at_its_first_use_only() -> None:
    links = WordLinks()
    assert links.linked("Pull the spades. Each spade is hot.").count(PAGE) == 1
    assert links.linked("A spade again.") == "A spade again."
    assert links.linked("The terminal block.").startswith("The [terminal block](")
    assert links.linked("A **terminal** is a tab.").startswith("A **[terminal](")
    assert links.linked("> 1. The cabinet is hot.").startswith("> 1. The [cabinet](")
    assert links.linked("| coil, OL | 1 |").count(PAGE) == 2


@pytest.mark.parametrize(
    "line",
    [
        "# The cabinet",
        "Press *Cabinet and coil*.",
        "Type `cabinet`.",
        "[the cabinet](x.md)",
        "**3.** What is the cabinet?",
        "Uncoiled cabinetry.",
    ],
)
def test_where_nothing_is_linked(line: str) -> None:
    assert WordLinks().linked(line) == line


def test_what_is_asked_is_left_alone() -> None:
    cells = [
        new_markdown_cell("The coil.", id="markdown-1"),
        new_code_cell("coil = 1", id="code-1"),
        new_markdown_cell("## Graded questions\nThe cabinet.", id="markdown-2"),
        new_markdown_cell("The element.", id="markdown-3"),
    ]
    link_words(cells)
    assert [PAGE in cell.source for cell in cells] == [True, False, False, False]
