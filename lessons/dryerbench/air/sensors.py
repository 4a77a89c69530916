"""What temperature probes give: the ohms of a platinum wire, the millivolts of a type K pair."""

from __future__ import annotations

import math

from dryerbench.core.errors import LegToLegError

_PT_A, _PT_B, _PT_C = 3.9083e-3, -5.775e-7, -4.183e-12
_PT_RANGE = (-200.0, 850.0)
_K_RANGE = (0.0, 1372.0)
_K_MILLIVOLTS = (
    -1.7600413686e-2,
    3.8921204975e-2,
    1.8558770032e-5,
    -9.9457592874e-8,
    3.1840945719e-10,
    -5.6072844889e-13,
    5.6075059059e-16,
    -3.2020720003e-19,
    9.7151147152e-23,
    -1.2104721275e-26,
)
_K_BELL = (0.1185976, -1.183432e-4, 126.9686)


class SensorRangeError(LegToLegError, ValueError):
    """A temperature for which a sensor's curve is not defined."""


def _inside(celsius: float, span: tuple[float, float], what: str) -> None:
    if not span[0] <= celsius <= span[1]:
        raise SensorRangeError(f"The curve of {what} runs from {span[0]:g} to {span[1]:g} °C, not to {celsius:g} °C.")


def platinum_ohms(celsius: float, ohms_at_zero: float = 100.0) -> float:
    """Return the Ω of a platinum sensor at ``celsius`` °C: R₀(1 + At + Bt² + C(t - 100)t³), C only below 0 °C.

    Source: IEC 60751 coefficients, -200 to 850 °C.

    Raises
    ------
    SensorRangeError
        Outside that range.
    """
    _inside(celsius, _PT_RANGE, "platinum")
    cold = _PT_C * (celsius - 100.0) * celsius**3 if celsius < 0 else 0.0
    return ohms_at_zero * (1.0 + _PT_A * celsius + _PT_B * celsius**2 + cold)


def type_k_millivolts(celsius: float) -> float:
    """Return the mV of a type K pair at ``celsius`` °C, its reference at 0 °C; 0 to 1372 °C.

    Σ cᵢtⁱ + a₀·exp(a₁(t - a₂)²). Source: the ITS-90 coefficients of type K (from memory; checked by a library).

    Raises
    ------
    SensorRangeError
        Outside that range.
    """
    _inside(celsius, _K_RANGE, "type K")
    line = math.fsum(c * celsius**power for power, c in enumerate(_K_MILLIVOLTS))
    size, sharp, middle = _K_BELL
    return line + size * math.exp(sharp * (celsius - middle) ** 2)
