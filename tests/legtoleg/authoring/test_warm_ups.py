"""Recall questions come out of a lesson's own text, whole and plain; one that cannot be read stops the build."""

from __future__ import annotations

import csv

import pytest

from dryerbench.recall.cards import Card, cards
from dryerbench.recall.sums import SAME_SUM
from legtoleg.authoring.warm_ups import WarmUpError, table, warm_ups

TEXT = """# 05 · A lesson

## Warm up: three from earlier

Answer from memory.

1. ⚠ (Lesson 01) You pull the **plug**. It drops behind
   the dryer. What now?
   <details><summary>Answer</summary>

   Get it back *in sight*, or lock it.
   </details>
2. (Lessons 02 and 03) How many volts, on `240 V`?
   <details><summary>Answer</summary>120 V.</details>

## Next

3. (Lesson 01) not here <details><summary>Answer</summary>no</details>
"""


def test_a_question_is_its_words_without_marks() -> None:
    assert list(warm_ups("05_path_to_case", TEXT)) == [
        Card("recall-05-1", "01_made_dead", True, "You pull the plug. It drops behind the dryer. What now?",
             "Get it back in sight, or lock it."),
        Card("recall-05-2", "02_two_legs", False, "How many volts, on 240 V?", "120 V."),
    ]  # fmt: skip


def test_one_that_names_no_lesson_is_of_its_own() -> None:
    own = next(warm_ups("05_path_to_case", TEXT.replace("(Lesson 01) You", "You")))
    assert (own.lesson, own.safety, own.asks[:12]) == ("05_path_to_case", True, "You pull the")


@pytest.mark.parametrize(
    ("old", "new"),
    [("(Lesson 01) You", "(Lesson 77) You"), ("120 V.", ""), ("<details>", ""),
     ("How many volts, on `240 V`?", "")],
)  # fmt: skip
def test_one_that_cannot_be_read_is_named(old: str, new: str) -> None:
    with pytest.raises(WarmUpError, match=r"05_path_to_case: warm-up [12] "):
        list(warm_ups("05_path_to_case", TEXT.replace(old, new)))


def test_what_is_shipped_is_what_the_lessons_ask() -> None:
    rows = list(csv.DictReader(table().splitlines()))
    asked = [name for name in cards() if name.startswith("recall-")]
    assert [row["name"] for row in rows] == sorted([*asked, *SAME_SUM])
    for row in rows:
        if row["name"] not in SAME_SUM:
            card = cards()[row["name"]]
            assert (card.asks, card.answer) == (row["asks"], row["answer"])
