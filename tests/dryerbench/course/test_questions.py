"""Questions: how an answer is wanted, in words."""

from __future__ import annotations

from dryerbench.course.questions import Question


def test_asked_in_words() -> None:
    assert Question("q", "Q", 2, unit="A").asked == "in A, 3 figures"
    assert Question("q", "Q", 2, unit="A", exact=True).asked == "in A, exactly"
