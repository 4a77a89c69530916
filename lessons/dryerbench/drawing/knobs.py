"""Knobs: what can be moved in a figure, each with its name, range and unit."""

from __future__ import annotations

import math
from dataclasses import dataclass

Values = dict[str, float]


@dataclass(frozen=True)
class Knob:
    """One thing to move: its name, label, range, step and start, all in ``unit``."""

    name: str
    label: str
    low: float
    high: float
    step: float
    start: float
    unit: str

    @property
    def named(self) -> str:
        """The label with its unit."""
        return f"{self.label} ({self.unit})" if self.unit else self.label

    def within(self, value: object, otherwise: float) -> float:
        """Return ``value`` where it is a number in the range, else ``otherwise``."""
        if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
            return otherwise
        return min(max(float(value), self.low), self.high)
