"""Reference answers: which task a marked question is, and which numbers of the job card go into it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from dryerbench.errors import UnknownQuestionError
from dryerbench.tasks import TASKS, Task

Earlier = Mapping[str, float]
"""The numbers of earlier questions, each in the unit of its question."""


@dataclass(frozen=True)
class Reference:
    """One question's task, and its numbers from the job card and from earlier answers."""

    question: str
    task_name: str
    numbers: Callable[[Any, Earlier], dict[str, Any]]

    @property
    def task(self) -> Task:
        """The right model and the wrong ones."""
        return TASKS[self.task_name]


def references(lesson: str) -> tuple[Reference, ...]:
    """Return the references of ``lesson``, in the order in which they build on one another.

    Raises
    ------
    UnknownQuestionError
        If there is no such lesson.
    """
    from grader.references import heater_power  # noqa: PLC0415

    known = {heater_power.LESSON: heater_power.REFERENCES}
    if lesson not in known:
        raise UnknownQuestionError(f"There is no lesson {lesson!r:.80} to mark; there are: {', '.join(known)}.")
    return known[lesson]


def worked(lesson: str, card: Any) -> dict[str, float]:
    """Return the right number of every question of ``lesson`` for the machine on ``card``, in its question's unit."""
    found: dict[str, float] = {}
    for reference in references(lesson):
        found[reference.question] = reference.task.value(reference.numbers(card, found))
    return found
