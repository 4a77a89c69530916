"""Questions: how an answer is wanted, in words."""

from __future__ import annotations

from dryerbench.questions import Question


def test_asked_in_words() -> None:
    assert Question("q", "Q", "A", 3, 2).asked == "in A, 3 figures"
    assert Question("q", "Q", "A", 2, 2, exact=True).asked == "in A, the exact rating"
