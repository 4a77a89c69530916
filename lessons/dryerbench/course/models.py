"""Tasks: one thing to work out, the right model of it, and the wrong models that people really use.

Practice and marking both work from these, each with numbers of its own. A wrong model carries the code of its slip.
Each topic has a module ``models`` with its ``TASKS``; names are shared by all lessons.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TypeAlias

Number: TypeAlias = float | str | tuple[float, ...]
"""What a model takes: a number, the name of a table's row, or one number for each of several parts."""
Numbers = Mapping[str, Number]
Model = Callable[..., float]


@dataclass(frozen=True)
class Task:
    """A right model and the wrong ones by slip code; each takes the task's numbers by name."""

    right: Model
    slips: Mapping[str, Model]

    def value(self, numbers: Numbers) -> float:
        """Return the right number."""
        return float(self.right(**numbers))

    def slip_values(self, numbers: Numbers) -> dict[str, float]:
        """Return the number that each slip leads to; a slip that leads to none on these numbers is left out."""
        found = {code: float(model(**numbers)) for code, model in self.slips.items()}
        return {code: number for code, number in found.items() if math.isfinite(number)}
