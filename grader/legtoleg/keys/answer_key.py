"""The answer key: the references of every lesson, found by its topic, and the right numbers on a card."""

from __future__ import annotations

from functools import cache
from importlib import import_module
from importlib.util import find_spec
from types import ModuleType

from dryerbench.core.errors import UnknownQuestionError
from dryerbench.course.job_card import JobCard
from dryerbench.registry import topics
from legtoleg.keys.reference import AnyReference, Reference


def _keys() -> list[ModuleType]:
    """Return the keys of every topic that has some."""
    places = [f"legtoleg.keys.{topic}" for topic in topics()]
    return [import_module(place) for place in places if find_spec(place)]


@cache
def _all() -> dict[str, tuple[AnyReference, ...]]:
    return {module.LESSON: module.REFERENCES for module in _keys()}


def references(lesson: str) -> tuple[AnyReference, ...]:
    """Return the references of ``lesson``, in the order in which they build on one another.

    Raises
    ------
    UnknownQuestionError
        If there is no such lesson.
    """
    if lesson not in _all():
        raise UnknownQuestionError(f"There is no lesson {lesson!r:.80} to grade; there are: {', '.join(_all())}.")
    return _all()[lesson]


def quantities(lesson: str) -> tuple[Reference[JobCard], ...]:
    """Return the references of the questions of ``lesson`` that ask for a quantity."""
    return tuple(one for one in references(lesson) if isinstance(one, Reference))


def worked(lesson: str, card: JobCard) -> dict[str, float]:
    """Return the right number of every quantity of ``lesson`` for the machine on ``card``, in its question's unit."""
    found: dict[str, float] = {}
    for reference in quantities(lesson):
        found[reference.question] = reference.task.value(reference.numbers(card, found))
    return found
