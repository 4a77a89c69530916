"""A control that reads a thermistor and switches the heat: what it believes, and what is true."""

from __future__ import annotations

from dryerbench.air.thermistor import BetaThermistor, Thermistor
from dryerbench.air.thermostats import HeatSwitch

USUAL_OPENS = 66.0
"""Exhaust temperature at which a control on high heat stops heating [°C]; common practice."""
USUAL_CLOSES = 60.0
"""Temperature at which it calls for heat again [°C]; same."""


def thermistor_control(
    fitted: Thermistor,
    believed: Thermistor | None = None,
    opens: float = USUAL_OPENS,
    closes: float = USUAL_CLOSES,
) -> HeatSwitch:
    """Return the true switching temperatures of a control that expects ``believed`` and reads ``fitted``.

    It stops heating where the fitted part has the ohms that the believed curve has at ``opens`` [°C], and
    heats again likewise at ``closes`` [°C]. A part whose ohms are too high makes the machine run hot.

    Raises
    ------
    OutOfRangeError
        If the parts fit no temperature, or ``closes`` is not below ``opens``.
    """
    curve = believed or BetaThermistor()
    return HeatSwitch("thermistor control", fitted.celsius(curve.ohms(opens)), fitted.celsius(curve.ohms(closes)))
