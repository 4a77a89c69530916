"""Cards: what the ten minutes can ask, by name."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from dryerbench.registry import SHEETS, members

RECALL_MINUTES, DRILL_MINUTES = 0.5, 1.5
"""What one card takes, in minutes: reading and saying an answer, or working a number out (an estimate, not timed)."""

FILE = "warm_ups.csv"
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


def _warm_ups() -> list[Card]:
    text = files("dryerbench.recall").joinpath(FILE).read_text(encoding="utf-8")
    return [
        Card(row["name"], row["lesson"], row["safety"] == "yes", row["asks"], row["answer"])
        for row in csv.DictReader(text.splitlines())
    ]


def _drills() -> list[Card]:
    lessons = {topic: module.LESSON for topic, module in members("sheet").items()}
    return [Card(name, lessons[topic]) for topic, module in members("drills").items() for name in module.DRILLS]


@cache
def cards() -> dict[str, Card]:
    """Return every card by its name, in the order of the lessons, safety first in each."""
    order = list(SHEETS)
    found = sorted([*_warm_ups(), *_drills()], key=lambda one: (order.index(one.lesson), not one.safety, one.is_drill))
    return {one.name: one for one in found}
