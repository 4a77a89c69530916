"""Cards: each question of safety has one, each name in the tables is that of something, and answers can be spoken."""

from __future__ import annotations

import csv
import re
from importlib.resources import files

import pytest

from dryerbench.recall.cards import COLUMNS, FILE, IDEAS, LEADS, cards, leads
from dryerbench.recall.sums import SUMS
from dryerbench.registry import DRILLS, SHEETS

QUESTIONS = {question.name: (lesson, question) for lesson, paper in SHEETS.items() for question in paper.questions}
SAFETY = [name for name, (_, question) in QUESTIONS.items() if question.safety]
LONGEST = 20
"""Words in a sentence, at most."""


def rows(file: str) -> list[dict[str, str]]:
    text = files("dryerbench.recall").joinpath(file).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


@pytest.mark.parametrize("question", SAFETY)
def test_each_question_of_safety_has_a_card_of_safety(question: str) -> None:
    assert any(cards()[name].safety for name in leads()[question])


@pytest.mark.parametrize("lesson", SHEETS)
def test_each_lesson_has_safety_cards_of_its_own(lesson: str) -> None:
    own = [one for one in cards().values() if one.lesson == lesson and one.safety and not one.is_drill]
    assert len(own) >= 2


def test_each_name_in_the_leads_is_that_of_a_question_and_of_cards() -> None:
    asked = [row["question"] for row in rows(LEADS)]
    assert len(set(asked)) == len(asked)
    assert set(asked) <= set(QUESTIONS)
    for question, names in leads().items():
        assert names, question
        assert len(set(names)) == len(names), question
        assert set(names) <= set(cards()), question


def test_a_question_leads_to_its_lesson_or_an_earlier_one() -> None:
    order = list(SHEETS)
    for question, names in leads().items():
        place = order.index(QUESTIONS[question][0])
        late = [name for name in names if order.index(cards()[name].lesson) > place]
        assert not late, question


def test_each_idea_is_led_to_and_said_once() -> None:
    ideas, led = rows(IDEAS), {name for names in leads().values() for name in names}
    assert ideas
    assert tuple(ideas[0]) == COLUMNS
    for row in ideas:
        assert re.fullmatch(r"idea-\d\d-[a-z-]+", row["name"]), row
        assert row["lesson"].startswith(row["name"][5:7])
        assert row["lesson"] in SHEETS
        assert row["safety"] in ("yes", "no")
    assert {row["name"] for row in ideas} | set(SUMS) <= led
    everything = [*ideas, *rows(FILE)]
    for column in ("name", "asks"):
        assert len({row[column] for row in everything}) == len(everything)


def test_a_drill_is_of_safety_if_a_question_of_safety_leads_to_it() -> None:
    safe = {name for question in SAFETY for name in leads()[question] if name in {*DRILLS, *SUMS}}
    assert safe == {one.name for one in cards().values() if one.safety and one.is_drill}
    assert "shock_current" in safe
    assert "amps" not in safe


@pytest.mark.parametrize("row", rows(IDEAS), ids=lambda row: row["name"])
def test_each_sentence_is_short_and_each_question_asks(row: dict[str, str]) -> None:
    for sentence in re.split(r"(?<=[.?:])\s", f"{row['asks']} {row['answer']}"):
        assert len(sentence.split()) <= LONGEST, sentence
    assert "?" in row["asks"] or ":" in row["asks"] or row["asks"].startswith("Name ")
    assert row["answer"].rstrip('"').endswith((".", "?"))
