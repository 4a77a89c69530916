"""The shop's own check: a thermostat or thermistor, out of the machine, in a cup of hot water, on the meter.

Safety: only with the machine unplugged and the part taken out. Hot water scalds. Dry the part before it
goes back. Water is never hotter than its boiling point: a part that opens above that stays closed here,
sound or stuck.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from dryerbench.air.curves import root
from dryerbench.core.errors import OutOfRangeError

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from dryerbench.air.thermistor import Thermistor
    from dryerbench.air.thermostats import HeatSwitch
    from dryerbench.core.temperatures import Floats

BOILING = 100.0
"""[°C]"""


@dataclass(frozen=True)
class Cup:
    """A cup of hot water that cools, and a part in it that follows: temperatures in °C, times in s.

    Both are first-order lags: water to room with ``cooling``, part to water with ``lag``.

    Raises
    ------
    OutOfRangeError
        If the water is not between the room and boiling, or the part is slower than the cup.
    """

    water: float = 90.0
    room: float = 22.0
    cooling: float = 1_500.0
    lag: float = 20.0

    def __post_init__(self) -> None:
        if not self.room <= self.water <= BOILING:
            raise OutOfRangeError(
                f"Water in a cup is between the room's {self.room:g} °C and {BOILING:g} °C, not {self.water:g} °C."
            )
        if not 0 < self.lag < self.cooling:
            raise OutOfRangeError("The part follows the water faster than the water cools.")

    def water_celsius(self, seconds: Floats | float) -> Floats:
        """Return the water's temperature [°C] after ``seconds``, a float or an array."""
        return self.room + (self.water - self.room) * np.exp(-np.asarray(seconds) / self.cooling)

    def part_celsius(self, seconds: Floats | float) -> Floats:
        """Return the part's temperature [°C] ``seconds`` after it went in at room temperature; exact."""
        at = np.asarray(seconds, dtype=float)
        gain = (self.water - self.room) / (1.0 - self.lag / self.cooling)
        return self.room + gain * (np.exp(-at / self.cooling) - np.exp(-at / self.lag))

    @property
    def peak_seconds(self) -> float:
        """When the part is hottest [s]."""
        return math.log(self.cooling / self.lag) * self.cooling * self.lag / (self.cooling - self.lag)

    def reaches(self, celsius: float, cooling_down: bool = False) -> float | None:
        """Return when the part passes ``celsius`` [°C], warming or cooling again [s]; None if never."""
        peak = self.peak_seconds
        if not self.room < celsius < float(self.part_celsius(peak)):
            return None

        def short(seconds: float) -> float:
            return float(self.part_celsius(seconds)) - celsius

        ends = (peak, peak + 60.0 * self.cooling) if cooling_down else (0.0, peak)
        if short(ends[1]) * short(ends[0]) > 0:
            return None
        return root(short, *ends, 1e-9)


@dataclass(frozen=True)
class WarmTest:
    """A heat switch in a cup."""

    part: HeatSwitch
    cup: Cup

    @property
    def opens_after(self) -> float | None:
        """Seconds until the contact opens, or None if the water is not hot enough."""
        return self.cup.reaches(self.part.opens)

    @property
    def closes_after(self) -> float | None:
        """Seconds until it closes again, or None if it does not."""
        if self.opens_after is None or self.part.closes is None:
            return None
        return self.cup.reaches(self.part.closes, cooling_down=True)

    def closed(self, seconds: Floats | float) -> NDArray[np.bool_]:
        """Return whether the contact is closed after ``seconds``, a float or an array."""
        at = np.asarray(seconds, dtype=float)
        opens, closes = self.opens_after, self.closes_after
        still = at < (math.inf if opens is None else opens)
        return still | (at >= (math.inf if closes is None else closes))

    def ohms(self, seconds: Floats | float) -> Floats:
        """Return the contact's ohms over time [Ω]; infinite, OL on a meter, while it is open."""
        return np.where(self.closed(seconds), self.part.ohms_closed, math.inf)


def thermistor_ohms(part: Thermistor, cup: Cup, seconds: Floats | float) -> Floats:
    """Return a thermistor's ohms [Ω] over time in the cup."""
    return np.array([part.ohms(float(value)) for value in np.atleast_1d(cup.part_celsius(seconds))])
