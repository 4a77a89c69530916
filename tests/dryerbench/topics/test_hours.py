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


STOP = "**Good place to stop.**"
SITTING = 75
"""Minutes that one sitting may take."""


_BENCHES = re.compile(r"\b(?:show_bench|practice_call|practice_bench|machine_call)\(")


def stretches(lesson: str) -> list[float]:
    """Return the minutes by the rule from one resting point of ``lesson`` to the next."""
    found = [0.0]
    for cell in nbformat.read(built_path(lesson), as_version=4).cells:
        if cell.cell_type != "code":
            begun = False
            for paragraph in cell.source.split("\n\n"):
                if paragraph.startswith(STOP) and (begun or found[-1]):
                    found.append(0.0)
                begun = True
                found[-1] += RULE["word"] * len(unlinked(paragraph).split())
            continue
        found[-1] += RULE["bench"] * len(_BENCHES.findall(cell.source))
        drawn = re.findall(r"\b(?:show_(?!bench)\w+|practice(?:_question)?)\(", cell.source)
        found[-1] += RULE["drawing or practice"] * len(drawn)
        found[-1] += RULE["graded question"] * str(cell.id).endswith("-answer")
    return found


def minutes(lesson: str) -> float:
    """Return the minutes that ``lesson`` takes by the rule."""
    return sum(stretches(lesson))


def printed(lesson: str) -> float:
    """Return the minutes that ``lesson`` prints."""
    text = "\n".join(cell.source for cell in nbformat.read(built_path(lesson), as_version=4).cells)
    said = " ".join(re.search(r"\*\*Time\.\*\*(.*?)hours?\b", text, re.DOTALL)[1].split())
    whole = next(number for word, number in NUMBERS.items() if re.search(rf"\b{word}\b", said))
    return 60 * (whole + next((part for words, part in PARTS.items() if words in said), 0))


def test_the_start_page_says_the_rule() -> None:
    text = " ".join(" ".join(cell.source for cell in nbformat.read(built_path(START), as_version=4).cells).split())
    word, drawing, question, bench = RULE.values()
    assert f"You read {1 / word:.0f} words a minute." in text
    assert f"A drawing or a practice takes {drawing} minutes, a graded question {question}, a bench {bench}." in text


@pytest.mark.parametrize("lesson", lesson_names())
def test_the_hours_are_those_of_the_rule(lesson: str) -> None:
    assert printed(lesson) == pytest.approx(minutes(lesson), abs=NEAR)


@pytest.mark.parametrize("lesson", lesson_names())
def test_no_sitting_is_longer_than_the_start_page_says(lesson: str) -> None:
    assert max(stretches(lesson)) <= SITTING


def test_a_resting_point_ends_a_sitting() -> None:
    assert len(stretches("09_open_and_close")) > minutes("09_open_and_close") / SITTING
