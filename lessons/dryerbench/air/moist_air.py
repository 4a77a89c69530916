"""Moist air: how much water air can carry, and the heat that it takes to put the water there.

The closed forms here serve the drying simulation, which asks very often: they are the handbook's own
equations, checked against psychrolib to rounding and against CoolProp within a stated tolerance.
What a lesson asks once (wet bulb, dew point) comes from psychrolib itself.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import psychrolib

from dryerbench.core.errors import OutOfRangeError
from dryerbench.core.temperatures import KELVIN_AT_ZERO_CELSIUS, FloatOrFloats

if TYPE_CHECKING:
    from collections.abc import Callable

    from dryerbench.core.temperatures import Floats

STANDARD_PRESSURE = 101_325.0
"""Sea-level atmosphere [Pa]."""
MOLAR_RATIO = 0.621945
"""Molar mass of water over that of dry air, as in the ASHRAE Handbook, Fundamentals."""
CP_DRY_AIR = 1006.0
"""Specific heat of dry air [J/(kg·K)], ASHRAE Handbook, Fundamentals, equation for enthalpy."""
CP_VAPOUR = 1860.0
"""Specific heat of water vapour [J/(kg·K)], same source."""
CP_LIQUID = 4186.0
"""Specific heat of liquid water [J/(kg·K)], same source."""
LATENT_HEAT_AT_ZERO = 2_501_000.0
"""Heat of vaporisation at 0 °C [J/kg], same source."""

BTU = 1055.05585262
"""International-table British thermal unit [J]."""
_CFM_IN_SI = 0.3048**3 / 60.0
SENSIBLE_HEAT_RULE = 60 * 0.075 * 0.24
"""The trade's rule for air's sensible heat [BTU/(h·cfm·°F)]."""
SENSIBLE_HEAT_SI = SENSIBLE_HEAT_RULE * BTU / 3600.0 / _CFM_IN_SI * 1.8
"""The same rule [W/(m³/s·K)]."""

_LIQUID = (-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 6.5459673)


def saturation_pressure(celsius: float) -> float:
    """Return the pressure [Pa] of water vapour over liquid water at ``celsius`` [°C], 0 to 200 °C.

    Examples
    --------
    >>> round(saturation_pressure(20.0), 1)
    2338.8
    """
    return saturation_pressure_by(celsius, math.exp, math.log)


def saturation_pressure_by(
    celsius: FloatOrFloats,
    exp: Callable[[FloatOrFloats], FloatOrFloats],
    log: Callable[[FloatOrFloats], FloatOrFloats],
) -> FloatOrFloats:
    """Return the same pressure [Pa] by the given ``exp`` and ``log``: those of ``numpy`` for arrays.

    Hyland and Wexler's equation as in the ASHRAE Handbook, Fundamentals.
    """
    kelvin = celsius + KELVIN_AT_ZERO_CELSIUS
    c8, c9, c10, c11, c12, c13 = _LIQUID
    return exp(c8 / kelvin + c9 + kelvin * (c10 + kelvin * (c11 + kelvin * c12)) + c13 * log(kelvin))


def humidity_ratio(celsius: float, relative_humidity: float, pressure: float = STANDARD_PRESSURE) -> float:
    """Return kg of water per kg of dry air at ``celsius`` [°C], humidity 0 to 1 and ``pressure`` [Pa].

    Raises
    ------
    OutOfRangeError
        If the humidity is outside 0 to 1, the air outside 0 to 200 °C, or the vapour would leave no air.

    Examples
    --------
    >>> round(humidity_ratio(20.0, 0.5), 6)
    0.007262
    """
    if not 0.0 <= relative_humidity <= 1.0:
        raise OutOfRangeError(f"A relative humidity is between 0 and 1 (0 % and 100 %), not {relative_humidity:g}.")
    if not 0.0 <= celsius <= 200.0:
        raise OutOfRangeError(f"The moist-air equations hold from 0 to 200 °C, not at {celsius:g} °C.")
    vapour = relative_humidity * saturation_pressure(celsius)
    if vapour >= pressure:
        raise OutOfRangeError(f"At {celsius:g} °C that much vapour would push all the air out: lower the humidity.")
    return float(MOLAR_RATIO * vapour / (pressure - vapour))


def enthalpy(celsius: float, ratio: float) -> float:
    """Return the heat in moist air [J per kg of dry air, from 0 °C] at ``celsius`` [°C] and ``ratio``.

    ASHRAE Handbook, Fundamentals: 1.006 t + W (2501 + 1.86 t), in kJ/kg.
    """
    return CP_DRY_AIR * celsius + ratio * (LATENT_HEAT_AT_ZERO + CP_VAPOUR * celsius)


def latent_heat(celsius: float) -> float:
    """Return the heat [J/kg] that turns water at ``celsius`` [°C] into vapour at the same temperature.

    The difference of the handbook's enthalpies of vapour and liquid; within 0.2 % of steam tables to 70 °C.
    """
    return LATENT_HEAT_AT_ZERO - (CP_LIQUID - CP_VAPOUR) * celsius


def dry_air_density(celsius: float, ratio: float = 0.0, pressure: float = STANDARD_PRESSURE) -> float:
    """Return kg of dry air in a cubic metre of moist air at ``celsius`` [°C] and humidity ratio ``ratio``.

    The ideal-gas law with 287.042 J/(kg·K) for dry air (ASHRAE Handbook, Fundamentals).
    """
    return pressure / (287.042 * (celsius + KELVIN_AT_ZERO_CELSIUS) * (1.0 + ratio / MOLAR_RATIO))


@dataclass(frozen=True)
class MoistAir:
    """Air as a lesson meets it: temperature [°C], relative humidity [0 to 1], pressure [Pa]."""

    celsius: float
    relative_humidity: float
    pressure: float = STANDARD_PRESSURE

    def __post_init__(self) -> None:
        humidity_ratio(self.celsius, self.relative_humidity, self.pressure)

    @property
    def humidity_ratio(self) -> float:
        """Kilograms of water per kilogram of dry air."""
        return humidity_ratio(self.celsius, self.relative_humidity, self.pressure)

    @property
    def enthalpy(self) -> float:
        """Heat in the air, J per kg of dry air, from 0 °C."""
        return enthalpy(self.celsius, self.humidity_ratio)

    @property
    def wet_bulb(self) -> float:
        """Temperature of a wet thermometer, or of wet clothes, in this air [°C]; by psychrolib."""
        return self._ask(psychrolib.GetTWetBulbFromRelHum, self.celsius, self.relative_humidity, self.pressure)

    @property
    def dew_point(self) -> float:
        """Temperature of a surface on which this air just begins to drop water [°C]; by psychrolib."""
        return self._ask(psychrolib.GetTDewPointFromRelHum, self.celsius, self.relative_humidity)

    @staticmethod
    def _ask(question: Callable[..., float], *values: float) -> float:
        before = psychrolib.GetUnitSystem()
        psychrolib.SetUnitSystem(psychrolib.SI)
        try:
            return float(question(*values))
        finally:
            if before is not None:
                psychrolib.SetUnitSystem(before)


def heating_watts(cubic_metres_per_second: float, rise_kelvin: float) -> float:
    """Return the watts that warm a flow [m³/s] by ``rise_kelvin``, by the trade's rule for sea level.

    The rule, 1.08 BTU/(h·cfm·°F), is 60 min/h × 0.075 lb/ft³ × 0.24 BTU/(lb·°F); 1207.2 W/(m³/s·K).
    """
    return SENSIBLE_HEAT_SI * cubic_metres_per_second * rise_kelvin


def relative_humidity(celsius: Floats, ratio: Floats, pressure: float = STANDARD_PRESSURE) -> Floats:
    """Return the relative humidity (0 to 1) of air at ``celsius`` [°C] with ``ratio``, arrays."""
    vapour = pressure * ratio / (MOLAR_RATIO + ratio)
    return vapour / saturation_pressure_by(celsius, exp=np.exp, log=np.log)
