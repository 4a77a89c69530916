"""Items: the questions of the course that a refresher may ask, each with its topic and its words."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

import jupytext

from dryerbench.core.tables import table
from dryerbench.course.questions import AnyQuestion, BenchQuestion, Question
from dryerbench.registry import SHEETS
from legtoleg.authoring.lesson_source import SourceError, source_path


@dataclass(frozen=True)
class PoolQuestion:
    """One question: its lesson, its topic, and about how many minutes it takes."""

    lesson: str
    question: AnyQuestion
    topic: str
    minutes: float

    @property
    def name(self) -> str:
        """The question's name."""
        return self.question.name

    @property
    def on_bench(self) -> bool:
        """Tell whether it is answered by work on the bench."""
        return isinstance(self.question, BenchQuestion)


@cache
def topic_of_question() -> Mapping[str, str]:
    """Return the topic of every question of the course."""
    return {row.text("question"): row.text("topic") for row in table("refresher-questions").rows}


@cache
def pool() -> Mapping[str, PoolQuestion]:
    """Return the questions that a refresher may ask, by name, in the order of the course."""
    rows = {row["question"]: row for row in table("refresher-questions").rows}
    return {
        question.name: PoolQuestion(
            lesson, question, rows[question.name].text("topic"), rows[question.name].number("minutes")
        )
        for lesson, paper in SHEETS.items()
        for question in paper.questions
        if rows[question.name]["minutes"] is not None
    }


@cache
def _lesson_words(lesson: str) -> Mapping[str, tuple[str, str]]:
    """Return how a lesson asks each of its questions: the words before and after its bench is opened."""
    found: dict[str, tuple[str, str]] = {}
    before = after = ""
    opened = False
    for cell in jupytext.reads(source_path(lesson).read_text(encoding="utf-8"), fmt="md:myst").cells:
        name = cell.metadata.get("question")
        if name is not None:
            found[name] = (before, after)
            before, after, opened = "", "", False
        elif cell.cell_type == "code":
            opened = bool(before)
        else:
            asked = re.search(r"^\*\*\d+\.\*\*\s+(.*)", cell.source, re.MULTILINE | re.DOTALL)
            if asked:
                before, after, opened = asked.group(1), "", False
            elif opened:
                after = cell.source
    return found


def words(item: PoolQuestion) -> tuple[str, str]:
    """Return how ``item`` is asked: the words before and, for work on the bench, after the bench is opened.

    Raises
    ------
    SourceError
        If the lesson's source does not ask it.
    """
    own = table("refresher-questions").row(question=item.name)["text"]
    asked = (own, "") if isinstance(own, str) and own else _lesson_words(item.lesson).get(item.name, ("", ""))
    if not asked[0]:
        raise SourceError(f"solutions/{item.lesson}.md does not say how {item.name} is asked.")
    return asked


def needs_card(item: PoolQuestion) -> bool:
    """Tell whether the job card has to be read to answer: a number is asked for, or the words speak of the card."""
    return isinstance(item.question, Question) or "card" in " ".join(words(item)).lower()
