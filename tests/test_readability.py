"""No lesson grows harder to read than a school's third grade by formula; ``readability`` prints the figures."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from readability import Figures, figures, sources_here

HARDEST = 3.0
"""The highest Flesch-Kincaid grade of a lesson: our own bound (no published source). All were above it once."""
LESSONS = sources_here()


@pytest.mark.parametrize("name", LESSONS)
def test_a_lesson_stays_easy_by_formula(name: str) -> None:
    found = figures(LESSONS[name])
    assert found.words > 300, "the prose of the lesson is found"
    assert found.grade <= HARDEST, f"{name}: grade {found.grade:.1f}, {found.length:.1f} words a sentence"


def test_the_formulas_are_those_published() -> None:
    """Worked by hand: 100 words, 10 sentences, 150 syllables."""
    assert Figures(100, 10, 150).ease == pytest.approx(206.835 - 10.15 - 126.9)
    assert Figures(100, 10, 150).grade == pytest.approx(3.9 + 17.7 - 15.59)


def test_a_hard_text_is_over_the_bound() -> None:
    hard = (
        "Measuring with the power on, and every reading with a clamp around a single conductor is one, is exclusively "
        "the responsibility of a qualified person, whose qualification the employer has previously documented.\n"
    )
    easy = "Pull the plug. Check the meter. Test for dead. Check the meter again. Then take the cover off.\n"
    assert figures(hard).grade > HARDEST > figures(easy).grade


def test_tables_and_code_are_not_read() -> None:
    text = "Pull the plug.\n\n| a | b |\n| --- | --- |\n| qualification | responsibility |\n\n```python\nx = 1\n```\n"
    assert figures(text).words == 3
