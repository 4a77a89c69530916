"""Reference answers: how each marked question is answered on the machine of a job card.

Each lesson has a module here, named as its topic, with ``LESSON`` and ``REFERENCES``: one
for each question, in an order in which they may build on one another.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Generic

from dryerbench.bench.bench import Bench
from dryerbench.course.job_card import CardT_contra, JobCard
from dryerbench.course.models import Numbers, Task
from dryerbench.registry import TASKS

Earlier = Mapping[str, float]
"""The numbers of earlier questions, each in the unit of its question."""


@dataclass(frozen=True)
class Reference(Generic[CardT_contra]):
    """A quantity: its task, and the task's numbers from the job card and from earlier answers.

    ``stands_on`` are the questions on the bench whose machine it is about: if that one was an earlier kit's, so is
    this.
    """

    question: str
    task_name: str
    numbers: Callable[[CardT_contra, Earlier], Numbers]
    stands_on: tuple[str, ...] = ()

    @property
    def task(self) -> Task:
        """The right model and the wrong ones."""
        return TASKS[self.task_name]


def _nothing(_: object) -> frozenset[str]:
    return frozenset()


@dataclass(frozen=True)
class ChoiceReference(Generic[CardT_contra]):
    """One option or several: the keys that are right on a card, and the slip that each wrong key shows.

    For several options a slip may also stand for a right key: it is what leaving that one out shows. ``harmless`` are
    keys whose mistake hurts nobody on a card, mostly because it is too careful: it costs points and holds nothing.
    ``stands_on`` is as for a quantity.
    """

    question: str
    right: Callable[[CardT_contra], frozenset[str]]
    slips: Mapping[str, str] | Callable[[CardT_contra], Mapping[str, str]]
    harmless: Callable[[CardT_contra], frozenset[str]] = _nothing
    stands_on: tuple[str, ...] = ()

    def slips_on(self, card: CardT_contra) -> Mapping[str, str]:
        """Return the slip of each key on ``card``."""
        return self.slips(card) if callable(self.slips) else self.slips

    def slip(self, key: str, card: CardT_contra) -> str | None:
        """Return the slip that ``key`` shows on ``card``; None if it shows none."""
        return self.slips_on(card).get(key)


@dataclass(frozen=True)
class Before:
    """One rule of an order: ``first`` has to come before ``then``; if not, the slip, and whether that is unsafe."""

    first: str
    then: str
    slip: str
    unsafe: bool = False


@dataclass(frozen=True)
class OrderReference:
    """An order: any that keeps all rules is right."""

    question: str
    rules: tuple[Before, ...]


@dataclass(frozen=True)
class Expected:
    """One reading: the numbers from ``low`` to ``high`` that count, in the unit of its row; or over limit.

    ``slips`` are numbers that a known mistake leads to, by its code.
    """

    low: float = 0.0
    high: float = 0.0
    over_limit: bool = False
    slips: Mapping[str, float] | None = None


@dataclass(frozen=True)
class ReadingsReference(Generic[CardT_contra]):
    """A table of readings: what is expected in each row, by its key.

    ``over_limit_slip`` is OL where a number belongs, ``number_slip`` a number where OL belongs.
    """

    question: str
    rows: Callable[[CardT_contra], dict[str, Expected]]
    over_limit_slip: str = ""
    number_slip: str = ""


@dataclass(frozen=True)
class Goal:
    """One thing that work on the bench has to reach: how to tell from the bench, and the slip if it was not.

    ``voids``: without it the whole work earns nothing. ``adds`` says what this bench shows of it, in a sentence.
    ``shown_by`` is the work without which it shows no skill, since whoever does nothing has reached it too: while
    something else is missing, it then earns nothing, without a word.
    """

    reached: Callable[[Bench], bool]
    slip: str
    voids: bool = False
    adds: Callable[[Bench], str] | None = None
    shown_by: Callable[[Bench], bool] | None = None

    def earned(self, bench: Bench) -> bool:
        """Return whether the work on ``bench`` reached it, and shows it."""
        return self.reached(bench) and (self.shown_by is None or self.shown_by(bench))


@dataclass(frozen=True)
class WorkReference(Generic[CardT_contra]):
    """Work on a bench: the bench as it was opened for a card, and what has to be reached on it.

    ``earlier`` is the bench that a kit from before had in its place, if another stands there now: what was done on
    that one cannot be marked any more, and is told so.
    """

    question: str
    bench: Callable[[CardT_contra], Bench]
    goals: tuple[Goal, ...]
    earlier: Callable[[CardT_contra], Bench] | None = None


@dataclass(frozen=True)
class FaultReference(Generic[CardT_contra]):
    """A fault with its evidence: the bench of a card, and the keys that name its fault or one no reading tells apart.

    ``left`` tells from the bench, and the key in question, which keys or faults its readings leave possible: the key
    alone if they show it. ``thin_slip`` is for a right name on thin evidence, ``slips`` are wrong keys by the mistake
    they show. ``earlier`` is the bench of a kit from before, as for work.
    """

    question: str
    bench: Callable[[CardT_contra], Bench]
    right: Callable[[CardT_contra], frozenset[str]]
    left: Callable[[Bench, str], list[str]]
    thin_slip: str
    slips: Mapping[str, str] | Callable[[CardT_contra], Mapping[str, str]]
    earlier: Callable[[CardT_contra], Bench] | None = None

    def slips_on(self, card: CardT_contra) -> Mapping[str, str]:
        """Return the slip of each wrong key on ``card``."""
        return self.slips(card) if callable(self.slips) else self.slips


ReferenceOf = (
    Reference[CardT_contra]
    | ChoiceReference[CardT_contra]
    | OrderReference
    | ReadingsReference[CardT_contra]
    | WorkReference[CardT_contra]
    | FaultReference[CardT_contra]
)
"""A reference of the lesson with the card ``CardT_contra``."""
AnyReference = ReferenceOf[JobCard]
"""A reference of any lesson: it is used with the cards of that lesson."""
