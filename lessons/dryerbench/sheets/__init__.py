"""The sheet of each lesson: the machine on the job card, the marked questions, the practice drills."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from dryerbench.errors import UnknownQuestionError
from dryerbench.questions import Question
from dryerbench.sheets import heater_power
from dryerbench.variants import stream_for


@dataclass(frozen=True)
class Sheet:
    """What a lesson asks: its folder name, its title, how its job card is drawn, and its questions."""

    lesson: str
    title: str
    draw: Callable[..., Any]
    questions: tuple[Question, ...]

    def question(self, name: str) -> Question:
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
        return self.draw(apprentice, stream_for(apprentice, self.lesson))


SHEETS: dict[str, Sheet] = {
    heater_power.LESSON: Sheet(heater_power.LESSON, heater_power.TITLE, heater_power.draw_card, heater_power.QUESTIONS),
}


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
