"""Warnings outside the lessons are as short as a lesson's cautions: no sentence of more than twenty words.

Every text for people is walked: what bench and panel say of an act, slips, check sheet, refresher, workbook, templates,
README. Left out are the lessons' own sources (``test_caution_texts`` reads their cautions), the options of questions
(they are answers, some of them wrong), citations of rules, and shell scripts.
"""

from __future__ import annotations

import csv
import re
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from caution_words import DANGER, long_warnings
from shop_words import ROOT, said

TEMPLATES = ROOT / "grader" / "legtoleg" / "templates"
_INLINE = re.compile(r"</?(?:b|i|a|em|strong|small|span|code|sup|sub|abbr)\b[^>]*>")


def page_texts(page: str) -> str:
    """Return what a template says, blocks apart, a gap for what is filled in, and sentences whole across their tags."""
    page = re.sub(r"(?s)<(style|script)\b.*?</\1>|\{#.*?#\}|<!--.*?-->", "", page)
    page = re.sub(r"(?s)\{\{.*?\}\}", "X", re.sub(r"(?s)\{%.*?%\}", "", page))
    return re.sub(r"<[^>]*>", "\n\n", _INLINE.sub("", page))


def markdown_texts(page: str) -> str:
    """Return what a page says without its code; each cell of a table is apart."""
    page = re.sub(r"(?s)```.*?```|`[^`\n]*`", "X", page)
    return re.sub(r"\|", "\n\n", page)


def citations() -> set[str]:
    with (ROOT / "datasets" / "refresher_topics.csv").open(encoding="utf-8", newline="") as file:
        return {row["source"] for row in csv.DictReader(file)}


def elsewhere() -> Iterator[tuple[str, str]]:
    cited = citations()
    for one in said():
        outside = not one.file.startswith(("solutions/", "README", "lessons/ANSWERS")) and not one.file.endswith(
            ".html"
        )
        if outside and not one.file.endswith(("/sheet.py", "/seat_jail.py")) and one.words not in cited:
            yield f"{one.file}:{one.line}", markdown_texts(one.words) if one.file.endswith(".md") else one.words


TEXTS = [
    ("README.md", markdown_texts((ROOT / "README.md").read_text(encoding="utf-8"))),
    *(
        (path.relative_to(ROOT).as_posix(), page_texts(path.read_text(encoding="utf-8")))
        for path in sorted(TEMPLATES.rglob("*.html"))
    ),
    *elsewhere(),
]


def test_no_warning_is_long() -> None:
    assert not [(place, found) for place, words in TEXTS for found in long_warnings(words)]


@pytest.mark.parametrize(
    "room",
    [
        "README.md",
        "grader/legtoleg/templates/witness/",
        "grader/legtoleg/templates/refresher/",
        "grader/legtoleg/authoring/workbook.py",
        "grader/legtoleg/refresher/",
        "lessons/dryerbench/bench/",
        "lessons/dryerbench/notebook/",
        "lessons/dryerbench/topics/made_dead/slips.py",
        "lessons/dryerbench/topics/call_to_close/slips.py",
        "datasets/bench_findings.csv",
        "datasets/witness_steps.csv",
        "datasets/witness_points.csv",
        "datasets/refresher_topics.csv",
    ],
)
def test_every_room_that_warns_is_walked(room: str) -> None:
    assert any(DANGER.search(words) for place, words in TEXTS if place.startswith(room))


LONG = "A bare terminal can kill, " + "and so on " * 6


@pytest.mark.parametrize("words", [LONG, f"> {LONG}\n", f"Short. {LONG}", f"{LONG}. Short."])
def test_a_long_warning_is_found(words: str) -> None:
    assert long_warnings(words)
    assert long_warnings(page_texts(f"<style>b {{ }}</style><p>{LONG.replace('kill', '<b>kill</b>')}</p>"))
    assert long_warnings(markdown_texts(f"| a | {words} |"))


@pytest.mark.parametrize("words", ["and so on " * 20, "It can kill. " * 20, "`kill " + "x " * 30 + "`"])
def test_what_is_short_or_no_warning_passes(words: str) -> None:
    assert not long_warnings(markdown_texts(words))
