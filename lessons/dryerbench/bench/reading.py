"""What the meter shows, and the band in which the true value lies; the same as plain data for JSON."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypedDict


class ReadingData(TypedDict):
    """A reading as plain data for JSON; an endless ``high`` is None."""

    mode: str
    places: list[str]
    shown: str
    value: float | None
    unit: str
    low: float
    high: float | None
    full_scale: float
    resolution: float
    beeps: bool | None
    trouble: str


@dataclass(frozen=True, slots=True)
class Reading:
    """What the meter shows, and the band (low, high) in which the true value at the tips lies; ``high`` may be inf.

    ``value`` is None for OL and for a spoiled reading; ``beeps`` is None outside continuity.
    """

    mode: str
    places: tuple[str, ...]
    shown: str
    value: float | None
    unit: str
    low: float
    high: float
    full_scale: float
    resolution: float
    beeps: bool | None = None
    trouble: str = ""

    def __str__(self) -> str:
        beep = {None: "", True: ", beeps", False: ", silent"}[self.beeps]
        return f"{self.shown}{beep}"

    def as_data(self) -> ReadingData:
        """Return the reading as plain data for JSON; an endless ``high`` becomes None."""
        return {
            "mode": self.mode,
            "places": list(self.places),
            "shown": self.shown,
            "value": self.value,
            "unit": self.unit,
            "low": self.low,
            "high": None if math.isinf(self.high) else self.high,
            "full_scale": self.full_scale,
            "resolution": self.resolution,
            "beeps": self.beeps,
            "trouble": self.trouble,
        }

    @staticmethod
    def from_data(data: ReadingData) -> Reading:
        """Return the reading that became ``data``."""
        return Reading(
            mode=data["mode"],
            places=tuple(data["places"]),
            shown=data["shown"],
            value=data["value"],
            unit=data["unit"],
            low=data["low"],
            high=math.inf if data["high"] is None else data["high"],
            full_scale=data["full_scale"],
            resolution=data["resolution"],
            beeps=data["beeps"],
            trouble=data["trouble"],
        )
