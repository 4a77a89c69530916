"""The sheet of each lesson: the machine on the job card, the marked questions, the practice drills.

Each lesson has a module here with ``LESSON``, ``TITLE``, ``QUESTIONS`` and ``draw_card``; its drills, if any, stand in
a module beside it whose name ends in ``_drills``, with ``DRILLS``.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from dryerbench.errors import UnknownQuestionError
from dryerbench.members import members
from dryerbench.questions import AnyQuestion
from dryerbench.variants import stream_for


@dataclass(frozen=True)
class Sheet:
    """What a lesson asks: its folder name, its title, how its job card is drawn, and its questions."""

    lesson: str
    title: str
    draw: Callable[..., Any]
    questions: tuple[AnyQuestion, ...]

    def question(self, name: str) -> AnyQuestion:
        """Return the question called ``name``.

        Raises
        ------
        UnknownQuestionError
            If the lesson has none of that name.
        """
        for question in self.questions:
            if question.name == name:
                return question
        raise UnknownQuestionError(f"The lesson {self.lesson} has no question called {name!r:.80}.")

    def card(self, apprentice: str) -> Any:
        """Return the job card of the machine that is ``apprentice``'s own in this lesson."""
        return _drawn(self.draw, self.lesson, apprentice)


@lru_cache(maxsize=128)
def _drawn(draw: Callable[..., Any], lesson: str, apprentice: str) -> Any:
    """Return a job card; a card never changes, so it is drawn once while somebody works on it."""
    return draw(apprentice, stream_for(apprentice, lesson))


def _sheets() -> dict[str, Sheet]:
    found = [module for module in members(sys.modules[__name__]) if hasattr(module, "LESSON")]
    made = [Sheet(module.LESSON, module.TITLE, module.draw_card, module.QUESTIONS) for module in found]
    return {one.lesson: one for one in sorted(made, key=lambda one: one.lesson)}


SHEETS: dict[str, Sheet] = _sheets()
"""The sheets of all lessons, by the name of the lesson's folder."""


def sheet(lesson: str) -> Sheet:
    """Return the sheet of ``lesson``, the name of its folder.

    Raises
    ------
    UnknownQuestionError
        If there is no such lesson.
    """
    if lesson not in SHEETS:
        raise UnknownQuestionError(f"There is no lesson {lesson!r:.80}; there are: {', '.join(SHEETS)}.")
    return SHEETS[lesson]
