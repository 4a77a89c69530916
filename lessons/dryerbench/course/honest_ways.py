"""Honest ways: whether a number as written is where the right model, or another honest way, leads."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from dryerbench.answers.acceptance import Wanted, Written
from dryerbench.course.drills import matching_slips
from dryerbench.course.models import Numbers, Task

FEWER = "{figures} figures are asked for; yours are right as far as they go."
"""What is said to the shop's rounding; it costs nothing."""


@dataclass(frozen=True)
class HonestWays:
    """All honest ways through one task on one set of numbers."""

    task: Task
    numbers: Numbers
    asked: Wanted

    @cached_property
    def right(self) -> float:
        """The right number, in the unit asked for."""
        return self.task.value(self.numbers)

    @cached_property
    def ends(self) -> dict[float, str]:
        """Where the other ways lead, in the unit asked for, each with what to say to it."""
        return {} if self.asked.exact else self.task.way_values(self.numbers, self.asked.figures)

    def fit(self, written: Written) -> str | None:
        """Return what to add to "right" (mostly nothing) if one of the ways ends at ``written``, else None."""
        if not math.isfinite(self.right):
            return None
        if self.asked.fits(written, self.right):
            return ""
        close = [says for value, says in self.ends.items() if self.asked.is_rounding_of(written, value)]
        if close:
            return min(close)
        if any(self.asked.is_shop_rounding_of(written, value) for value in (self.right, *self.ends)):
            return None if self._is_computed_slip(written) else FEWER.format(figures=self.asked.figures)
        return None

    def _is_computed_slip(self, written: Written) -> bool:
        """Tell whether a number that nobody rounded is where a slip leads: its few figures are then no rounding."""
        slips = self.task.slip_values(self.numbers)
        return written.figures is None and bool(matching_slips(written.to(self.asked.unit), slips, self.asked.figures))
