"""What the heater makes and draws, as the cycle needs it: contacts closed, contacts open, motor at rest.

The virtual bench's circuit computes these for any machine; here are the closed forms of the common cases, for
lessons and as a check on the circuit.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dryerbench.core.errors import OutOfRangeError

if TYPE_CHECKING:
    from collections.abc import Sequence

USUAL_ELEMENTS = (27.0, 27.0, 27.0)
"""Three elements [Ω]; common practice, no published source."""

MOST_WATTS = 50_000.0
"""Far above any household heater; what is computed beyond it would be a typing error's [W]."""


@dataclass(frozen=True)
class HeaterPower:
    """A heater's watts and amps: contacts closed, contacts open while the motor runs, and motor stopped.

    A sound heater works in the first state alone. ``lit`` is the share of the elements that carry current.

    Raises
    ------
    OutOfRangeError
        If a number is negative, or no element is left to heat.
    """

    closed_watts: float
    closed_amps: float
    open_watts: float = 0.0
    open_amps: float = 0.0
    stopped_watts: float = 0.0
    stopped_amps: float = 0.0
    lit: float = 1.0
    stopped_through_switches: bool = False
    """Whether what flows with the motor stopped comes through the heat switches, which then can break it."""

    def __post_init__(self) -> None:
        numbers = (self.closed_watts, self.closed_amps, self.open_watts, self.open_amps)
        if not all(math.isfinite(n) and n >= 0 for n in (*numbers, self.stopped_watts, self.stopped_amps)):
            raise OutOfRangeError("A heater's watts and amps are 0 or more.")
        if max(self.closed_watts, self.open_watts, self.stopped_watts) > MOST_WATTS:
            raise OutOfRangeError(
                f"No household heater makes more than {MOST_WATTS / 1000:g} kW: check the ohms and the volts."
            )
        if not 0.0 < self.lit <= 1.0:
            raise OutOfRangeError(f"The share of elements that carry current is above 0, up to 1, not {self.lit:g}.")

    @classmethod
    def parallel(
        cls, ohms: Sequence[float] = USUAL_ELEMENTS, volts: float = 240.0, open_elements: Sequence[int] = ()
    ) -> HeaterPower:
        """Return the power of elements [Ω] side by side on ``volts`` [V]; ``open_elements`` counts from 1.

        Ohm's and Joule's laws: V/R and V²/R for each. The ohms are those of the hot wire.

        Raises
        ------
        OutOfRangeError
            If an element or the supply is impossible, or an open element does not exist.

        Examples
        --------
        >>> round(HeaterPower.parallel().closed_watts, 1)
        6400.0
        """
        _check(ohms, volts)
        strange = [number for number in open_elements if not 1 <= number <= len(ohms)]
        if strange:
            raise OutOfRangeError(f"There is no coil {strange[0]}: this heater has {len(ohms)}.")
        whole = [value for number, value in enumerate(ohms, start=1) if number not in open_elements]
        amps = sum(volts / value for value in whole)
        return cls(volts * amps, amps, lit=max(len(whole), 1) / len(ohms))

    @classmethod
    def grounded(
        cls,
        ohms: Sequence[float] = USUAL_ELEMENTS,
        volts: float = 240.0,
        *,
        element: int = 1,
        fraction: float = 0.5,
        leg_volts: float = 120.0,
        live_when_stopped: bool = False,
    ) -> HeaterPower:
        """Return the power with ``element`` (from 1) touching its grounded case at ``fraction`` of it.

        ``fraction`` counts from the leg that the contacts do not break; ``leg_volts`` is from a leg to
        ground. With the contacts open that leg still drives two paths: through the near part straight to
        the case, and through the other elements back through the far part. The ground path itself is taken
        as 0 Ω. The amps are those of that leg. ``live_when_stopped``: whether it stays live when the
        motor's own switch opens.

        Raises
        ------
        OutOfRangeError
            If an element, the supply or the fraction is impossible.
        """
        _check(ohms, volts)
        if not 1 <= element <= len(ohms):
            raise OutOfRangeError(f"There is no coil {element}: this heater has {len(ohms)}.")
        if not 0.0 < fraction < 1.0:
            raise OutOfRangeError(
                f"The grounded place is inside the element: a fraction above 0 and below 1, not {fraction:g}."
            )
        whole = ohms[element - 1]
        near, far = fraction * whole, (1.0 - fraction) * whole
        others = sum(1.0 / value for number, value in enumerate(ohms, start=1) if number != element)
        closed_amps = leg_volts / near + volts * others
        closed_watts = leg_volts**2 * (1.0 / near + 1.0 / far) + volts**2 * others
        back = 1.0 / (1.0 / others + far) if others else 0.0
        open_amps = leg_volts * (1.0 / near + back)
        rest = open_amps if live_when_stopped else 0.0
        return cls(closed_watts, closed_amps, leg_volts * open_amps, open_amps, leg_volts * rest, rest)


def _check(ohms: Sequence[float], volts: float) -> None:
    if not ohms or not all(math.isfinite(value) and value > 0 for value in ohms):
        raise OutOfRangeError("A heater has at least one element, each above 0 Ω.")
    if not (math.isfinite(volts) and volts >= 0):
        raise OutOfRangeError(f"A supply is 0 V or more, not {volts:g} V.")
