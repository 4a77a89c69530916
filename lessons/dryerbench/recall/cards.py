"""Cards: what the ten minutes can ask, by name, and which of them practice what a graded question asks.

Recall questions are in two tables of the same columns: ``warm_ups.csv``, built from the lessons' sources, and
``ideas.csv``, written by hand, each answer from its lesson's own text. ``leads.csv`` says once for each graded question
which cards practice it, beside the drills of its own task, and under which heading its practice bench stands; a sum
that a question of safety leads to is one of safety.
Sums, of ``sums`` and the drills of the lessons, deal new numbers each time; no card holds a sum with its answer.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from dryerbench.recall.sums import SAME_SUM, SUMS
from dryerbench.registry import SHEETS, members

RECALL_MINUTES, DRILL_MINUTES = 0.5, 1.5
"""What one card takes, in minutes: reading and saying an answer, or working a number out (an estimate, not timed)."""

FILE, IDEAS, LEADS = "warm_ups.csv", "ideas.csv", "leads.csv"
COLUMNS = ("name", "lesson", "safety", "asks", "answer")


@dataclass(frozen=True)
class Card:
    """One card: of which lesson, whether it is about safety, and its words; a drill has none and deals numbers."""

    name: str
    lesson: str
    safety: bool = False
    asks: str = ""
    answer: str = ""

    @property
    def is_drill(self) -> bool:
        """Whether it is a drill, to be worked out."""
        return not self.asks

    @property
    def minutes(self) -> float:
        """What it takes, in minutes."""
        return DRILL_MINUTES if self.is_drill else RECALL_MINUTES


def _rows(file: str) -> list[dict[str, str]]:
    text = files("dryerbench.recall").joinpath(file).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


@cache
def leads() -> dict[str, tuple[str, ...]]:
    """Return by graded question the names of the cards that practice it, beside the drills of its own task."""
    return {row["question"]: tuple(row["cards"].split()) for row in _rows(LEADS)}


@cache
def benches() -> dict[str, str]:
    """Return by graded question at a bench the heading of its lesson under which a bench to practice on stands."""
    return {row["question"]: row["bench"] for row in _rows(LEADS) if row["bench"]}


def _questions() -> list[Card]:
    return [
        Card(row["name"], row["lesson"], row["safety"] == "yes", row["asks"], row["answer"])
        for file in (FILE, IDEAS)
        for row in _rows(file)
        if row["name"] not in SAME_SUM
    ]


def _sums() -> list[Card]:
    lessons = {topic: module.LESSON for topic, module in members("sheet").items()}
    asked = [question for paper in SHEETS.values() for question in paper.questions]
    safe = {card for question in asked if question.safety for card in leads().get(question.name, ())}
    of = {name: lessons[topic] for topic, module in members("drills").items() for name in module.DRILLS}
    of |= {name: one.lesson for name, one in SUMS.items()}
    return [Card(name, lesson, name in safe) for name, lesson in of.items()]


@cache
def cards() -> dict[str, Card]:
    """Return every card by its name, in the order of the lessons, safety first in each."""
    order = list(SHEETS)
    found = sorted([*_questions(), *_sums()], key=lambda one: (order.index(one.lesson), not one.safety, one.is_drill))
    return {one.name: one for one in found}
