"""The hours that each lesson prints follow from the start page's own rule, as the lesson is now."""

from __future__ import annotations

import re

import nbformat
import pytest

from legtoleg.authoring.building import built_path
from legtoleg.authoring.word_page import unlinked
from legtoleg.core.paths import START, lesson_names

RULE = {"word": 0.01, "drawing or practice": 4, "graded question": 5, "bench": 20}
"""Minutes: 100 words in one, and the rest as the start page says."""
NUMBERS = {"one": 1, "two": 2, "three": 3, "four": 4}
PARTS = {"and a quarter": 0.25, "and a half": 0.5, "and three quarter": 0.75}
NEAR = 15
"""Minutes by which a round number may differ."""


def minutes(lesson: str) -> float:
    """Return the minutes that ``lesson`` takes by the rule."""
    found = 0.0
    for cell in nbformat.read(built_path(lesson), as_version=4).cells:
        if cell.cell_type != "code":
            found += RULE["word"] * len(unlinked(cell.source).split())
            continue
        found += RULE["bench"] * len(re.findall(r"\b(?:show_bench|practice_call)\(", cell.source))
        found += RULE["drawing or practice"] * len(re.findall(r"\b(?:show_(?!bench)\w+|practice)\(", cell.source))
        found += RULE["graded question"] * str(cell.id).endswith("-answer")
    return found


def printed(lesson: str) -> float:
    """Return the minutes that ``lesson`` prints."""
    text = "\n".join(cell.source for cell in nbformat.read(built_path(lesson), as_version=4).cells)
    said = " ".join(re.search(r"\*\*Time\.\*\*(.*?)hours?\b", text, re.DOTALL)[1].split())
    whole = next(number for word, number in NUMBERS.items() if re.search(rf"\b{word}\b", said))
    return 60 * (whole + next((part for words, part in PARTS.items() if words in said), 0))


def test_the_start_page_says_the_rule() -> None:
    text = " ".join(" ".join(cell.source for cell in nbformat.read(built_path(START), as_version=4).cells).split())
    rule = "100 words a minute, 4 minutes for a drawing or a practice, 5 for a graded question, 20 for a bench"
    assert rule in text


@pytest.mark.parametrize("lesson", lesson_names())
def test_the_hours_are_those_of_the_rule(lesson: str) -> None:
    assert printed(lesson) == pytest.approx(minutes(lesson), abs=NEAR)
