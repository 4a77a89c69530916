"""The sheet of each lesson: the machine on the job card, the graded questions, the practice drills.

Each topic has a module ``sheet`` with ``LESSON``, ``TITLE``, ``QUESTIONS`` and ``draw_card``; its drills, if any, stand
in the module ``drills`` beside it, with ``DRILLS``, and its practice benches in ``practice_benches``, with
``PRACTICE_BENCHES`` by the graded question that each stands before; ``practice_questions`` has ``PRACTICE_QUESTIONS``
in the same way, for letters, orders and tables.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache

from dryerbench.core.errors import UnknownQuestionError
from dryerbench.core.random_stream import Stream, stream_for
from dryerbench.course.job_card import JobCard
from dryerbench.course.questions import AnyQuestion


@dataclass(frozen=True)
class LessonSpec:
    """What a lesson asks: its folder name, its title, how its job card is drawn, and its questions."""

    lesson: str
    title: str
    draw: Callable[[str, Stream], JobCard]
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

    def card(self, apprentice: str, try_number: int = 1) -> JobCard:
        """Return the job card of the machine that is ``apprentice``'s own in this lesson, at this try."""
        return _drawn(self.draw, self.lesson, apprentice, try_number)


@lru_cache(maxsize=128)
def _drawn(draw: Callable[[str, Stream], JobCard], lesson: str, apprentice: str, try_number: int) -> JobCard:
    """Return a job card; a card never changes, so it is drawn once while somebody works on it."""
    return replace(draw(apprentice, stream_for(apprentice, lesson, try_number)), try_number=try_number)
