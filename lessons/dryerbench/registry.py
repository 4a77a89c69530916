"""The registry: every sheet, task, slip and drill of the course, found in the topics rather than listed."""

from __future__ import annotations

import pkgutil
from collections.abc import Mapping
from importlib import import_module
from importlib.util import find_spec
from types import ModuleType
from typing import TypeVar

from dryerbench.core.errors import LegToLegError, UnknownQuestionError
from dryerbench.course.drills import Drill
from dryerbench.course.lesson_spec import LessonSpec
from dryerbench.course.models import Task
from dryerbench.course.practice_bench import NoPracticeBenchError, PracticeBench
from dryerbench.course.practice_question import NoPracticeQuestionError, PracticeQuestion
from dryerbench.course.slips import Slip

_Named = TypeVar("_Named")
TOPICS = "dryerbench.topics"


def topics() -> list[str]:
    """Return the names of all topics, sorted."""
    return sorted(found.name for found in pkgutil.iter_modules(import_module(TOPICS).__path__) if found.ispkg)


def members(name: str) -> dict[str, ModuleType]:
    """Return the module ``name`` of every topic that has one, by topic, sorted."""
    places = {topic: f"{TOPICS}.{topic}.{name}" for topic in topics()}
    return {topic: import_module(place) for topic, place in places.items() if find_spec(place)}


def _sheets() -> dict[str, LessonSpec]:
    found = members("sheet").values()
    made = [LessonSpec(module.LESSON, module.TITLE, module.draw_card, module.QUESTIONS) for module in found]
    return {one.lesson: one for one in sorted(made, key=lambda one: one.lesson)}


SHEETS: dict[str, LessonSpec] = _sheets()
"""The sheets of all lessons, by the name of the lesson's folder."""

TASKS: dict[str, Task] = {name: task for module in members("models").values() for name, task in module.TASKS.items()}
"""Every task of every lesson by its name."""

SLIPS: dict[str, Slip] = {slip.code: slip for module in members("slips").values() for slip in module.SLIPS}
"""Every slip of every lesson by its code."""

DRILLS: dict[str, Drill] = {name: one for module in members("drills").values() for name, one in module.DRILLS.items()}
"""Every drill of every lesson by its name."""

PRACTICE_BENCHES: dict[str, PracticeBench] = {
    name: one for module in members("practice_benches").values() for name, one in module.PRACTICE_BENCHES.items()
}
"""Every practice bench of every lesson, by the graded question that it stands before."""

PRACTICE_QUESTIONS: dict[str, PracticeQuestion] = {
    name: one for module in members("practice_questions").values() for name, one in module.PRACTICE_QUESTIONS.items()
}
"""The practice of every kind of question but sums and benches, by the graded question that it comes before."""


def _named(there: Mapping[str, _Named], what: str, name: str, error: type[LegToLegError]) -> _Named:
    if name not in there:
        raise error(f"There is no {what} {name!r:.80}; there are: {', '.join(there)}.")
    return there[name]


def sheet(lesson: str) -> LessonSpec:
    """Return the sheet of ``lesson``, the name of its folder.

    Raises
    ------
    UnknownQuestionError
        If there is no such lesson.
    """
    return _named(SHEETS, "lesson", lesson, UnknownQuestionError)


def lesson_of(question: str) -> str:
    """Return the lesson that asks the graded ``question``, by its name; empty if none does."""
    return next((one.lesson for one in SHEETS.values() if question in (asked.name for asked in one.questions)), "")


def drill(name: str) -> Drill:
    """Return the drill called ``name``.

    Raises
    ------
    UnknownQuestionError
        If there is none of that name.
    """
    return _named(DRILLS, "practice called", name, UnknownQuestionError)


def bench_to_practice(name: str) -> PracticeBench:
    """Return the practice bench before the graded question ``name``.

    Raises
    ------
    NoPracticeBenchError
        If there is none of that name.
    """
    return _named(PRACTICE_BENCHES, "practice bench called", name, NoPracticeBenchError)


def question_to_practice(name: str) -> tuple[LessonSpec, PracticeQuestion]:
    """Return the lesson and the practice that comes before the graded question ``name``.

    Raises
    ------
    NoPracticeQuestionError
        If there is none of that name.
    """
    found = _named(PRACTICE_QUESTIONS, "practice question called", name, NoPracticeQuestionError)
    return sheet(lesson_of(name)), found
