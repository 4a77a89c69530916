"""Tasks: one thing to work out, the right model of it, and the wrong models that people really use.

Practice and marking both work from these, each with numbers of its own. A wrong model carries the code of its slip.
Each topic has a module ``models`` with its ``TASKS``; names are shared by all lessons.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

Numbers = Mapping[str, Any]
Model = Callable[..., float]


def _worked(model: Model, numbers: Numbers) -> float:
    try:
        return float(model(**numbers))
    except (ArithmeticError, ValueError):
        return math.nan


@dataclass(frozen=True)
class Task:
    """A right model and the wrong ones by slip code; each takes the task's numbers by name."""

    right: Model
    slips: Mapping[str, Model]

    def value(self, numbers: Numbers) -> float:
        """Return the right number; NaN where ``numbers`` lead to none, such as a division by an answer of 0."""
        return _worked(self.right, numbers)

    def slip_values(self, numbers: Numbers) -> dict[str, float]:
        """Return the number that each slip leads to; a slip that leads to none on these numbers is left out."""
        found = {code: _worked(model, numbers) for code, model in self.slips.items()}
        return {code: number for code, number in found.items() if math.isfinite(number)}
