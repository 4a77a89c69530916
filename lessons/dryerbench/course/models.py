"""Tasks: one thing to work out, the right model of it, other honest ways to it, and the wrong models people use.

Practice and marking both work from these, each with numbers of its own. A wrong model carries the code of its slip.
Each topic has a module ``models`` with its ``TASKS``; names are shared by all lessons. A model takes those of the
task's numbers that it names; a way that names one that is not there does not apply.
"""

from __future__ import annotations

import inspect
import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cache
from itertools import product
from typing import TypeAlias

from dryerbench.answers.tolerance import round_half_up, rounded_number

Number: TypeAlias = float | str | tuple[float, ...]
"""What a model takes: a number, the name of a table's row, or one number for each of several parts."""
Numbers = Mapping[str, Number]
Model = Callable[..., float]


@dataclass(frozen=True)
class Rounding:
    """How a number is written down on the way: to so many figures, as the shop does, or (``figures`` None) in full."""

    figures: int | None = None
    shop: bool = False
    """By the shop's habit: to the tenth that its meters show from 1 to 100, three figures above, two below."""

    def __call__(self, number: float) -> float:
        """Return ``number``, of any unit, as it is carried on."""
        if self.shop and 1.0 <= abs(number) < 100.0:
            return round_half_up(number, 0.1)
        return self.factor(number)

    def factor(self, number: float) -> float:
        """Return ``number``, a factor without a unit, as it is carried on: its tenths are no measure of it."""
        if self.shop:
            return rounded_number(number, 3 if abs(number) >= 1.0 else 2)
        return number if self.figures is None else rounded_number(number, self.figures)

    def fine(self, number: float) -> float:
        """Return ``number`` as it is carried on where a figure less would spoil the rest: before a difference."""
        return rounded_number(number, 3) if self.shop else self.factor(number)


def roundings(figures: int) -> tuple[Rounding, ...]:
    """Return the ways to carry a number on where ``figures`` are asked for: in full, one more, as asked, the shop's."""
    return Rounding(), Rounding(figures + 1), Rounding(figures), Rounding(shop=True)


@cache
def _parameters(model: Model) -> tuple[int, tuple[str, ...], frozenset[str]]:
    """Return how many roundings a model takes, the numbers that it names, and those without which it cannot be."""
    given = inspect.signature(model).parameters.values()
    steps = sum(one.kind is one.POSITIONAL_ONLY for one in given)
    named = [one for one in given if one.kind is not one.POSITIONAL_ONLY]
    needed = frozenset(one.name for one in named if one.default is one.empty)
    return steps, tuple(one.name for one in named), needed


def _worked(model: Model, numbers: Numbers, carried: tuple[Rounding, ...] = ()) -> float:
    _, names, _ = _parameters(model)
    try:
        return float(model(*carried, **{name: numbers[name] for name in names if name in numbers}))
    except (ArithmeticError, ValueError):
        return math.nan


@dataclass(frozen=True)
class Way:
    """Another honest way to the same answer.

    The model takes a ``Rounding`` for each number that is written down on the way (its positional-only parameters),
    then the task's numbers by name. ``says`` is what to tell somebody who came by a rule of thumb; it costs nothing.
    """

    model: Model
    says: str = ""

    @property
    def steps(self) -> int:
        """How many numbers are written down on the way."""
        return _parameters(self.model)[0]

    def applies(self, numbers: Numbers) -> bool:
        """Tell whether all that it needs is among ``numbers``."""
        return _parameters(self.model)[2] <= set(numbers)

    def value(self, numbers: Numbers, carried: tuple[Rounding, ...] | None = None) -> float:
        """Return where it leads; ``carried`` is one rounding a step (without it: in full)."""
        return _worked(self.model, numbers, (Rounding(),) * self.steps if carried is None else carried)

    def values(self, numbers: Numbers, figures: int) -> frozenset[float]:
        """Return all that it leads to with each number on the way rounded in each of ``roundings(figures)``."""
        if not self.applies(numbers):
            return frozenset()
        found = (self.value(numbers, carried) for carried in product(roundings(figures), repeat=self.steps))
        return frozenset(value for value in found if math.isfinite(value))


@dataclass(frozen=True)
class Ideas:
    """What a safety quantity is about: the right idea in words, and the wrong ones by the slip that they show."""

    right: str
    wrong: Mapping[str, str]

    WITHIN = 0.25
    """How far from an idea's number an answer still shows it, as a share of it or, if more, of the right number."""


@dataclass(frozen=True)
class Task:
    """A right model, the wrong ones by slip code, other honest ways; and for a safety quantity its ideas."""

    right: Model
    slips: Mapping[str, Model]
    ways: tuple[Way, ...] = field(default=())
    ideas: Ideas | None = None

    def value(self, numbers: Numbers) -> float:
        """Return the right number; NaN where ``numbers`` lead to none, such as a division by an answer of 0."""
        return _worked(self.right, numbers)

    def slip_values(self, numbers: Numbers) -> dict[str, float]:
        """Return the number that each slip leads to; a slip that leads to none on these numbers is left out."""
        found = {code: _worked(model, numbers) for code, model in self.slips.items()}
        return {code: number for code, number in found.items() if math.isfinite(number)}

    def way_values(self, numbers: Numbers, figures: int) -> dict[float, str]:
        """Return every number that an honest way leads to where ``figures`` are asked, each with what to say to it."""
        found: dict[float, str] = {}
        for way in self.ways:
            for value in way.values(numbers, figures):
                found[value] = way.says if found.get(value, way.says) else ""
        return found

    def idea(self, number: float, numbers: Numbers) -> str | None:
        """Return the code of the wrong idea that ``number`` shows, "" for the right one, None where it shows none.

        The nearest idea counts, if the number is within ``Ideas.WITHIN`` of it; the sign of a voltage says nothing.
        """
        if self.ideas is None:
            return None
        right, slips = self.value(numbers), self.slip_values(numbers)
        places = {"": right, **{code: slips[code] for code in self.ideas.wrong if code in slips}}
        code = min(places, key=lambda one: abs(abs(number) - abs(places[one])))
        wide = self.ideas.WITHIN * max(abs(places[code]), abs(right))
        return code if abs(abs(number) - abs(places[code])) <= wide else None
