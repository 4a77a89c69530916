"""Numbers times units, as a lesson makes them: taken apart by exact type, the object is not trusted."""

from __future__ import annotations

import math
import sys

from dryerbench.answers.units import BY_PINT_NAME, Registry, Unit, application_registry, unit

__all__ = ["measured", "real"]

# What a product of units in a lesson may come out as: 240 * V / (27 * ohm) is a current. Only what has one
# meaning here: a length over a mass, or one over a time (a frequency, or radians a second?), is refused.
_PRODUCTS = ("A", "V", "\N{GREEK CAPITAL LETTER OMEGA}", "W", "kWh", "cfm", "ft/min")

_HIGHEST_POWER = 4
_NUMPY_REALS = (
    "float64",
    "float32",
    "int64",
    "int32",
    "int16",
    "int8",
    "uint64",
    "uint32",
    "uint16",
    "uint8",
)


def real(value: object) -> float | None:
    """Return a number that is exactly an int, a float or a real scalar of numpy; None for all else."""
    kinds = [int, float]
    if "numpy" in sys.modules:
        kinds += [getattr(sys.modules["numpy"], name) for name in _NUMPY_REALS]
    if not any(type(value) is kind for kind in kinds):
        return None
    try:
        return float(value)  # type: ignore[arg-type]
    except OverflowError:
        return math.inf


def measured(value: object) -> tuple[float | None, Unit | None] | None:
    """Return (magnitude, unit) of a pint quantity, None for anything else; no method of ``value`` is called.

    The magnitude is None unless ``real`` takes it, the unit is None when the table has none for it. A product
    of the table's units that is a current, voltage, resistance, power, energy, air flow or air speed comes in
    A, V, ohms, W, kWh, cfm or ft/min.
    """
    if "pint" not in sys.modules:
        return None
    registry = application_registry()
    if not any(type(value) is kind for kind in (registry.Quantity, sys.modules["pint"].Quantity)):
        return None
    inside = object.__getattribute__(value, "__dict__")
    number, powers = real(dict.get(inside, "_magnitude")), _powers(dict.get(inside, "_units"))
    if number is None or powers is None:
        return number, None
    if len(powers) == 1 and next(iter(powers.values())) == 1:
        return number, BY_PINT_NAME[next(iter(powers))]
    return _product(registry, number, powers)


def _powers(units: object) -> dict[str, float] | None:
    """Return {pint name: power} of a unit container, None when anything in it is not from the table."""
    from pint.util import UnitsContainer

    if type(units) is not UnitsContainer:
        return None
    powers: dict[str, float] = {}
    for name, power in dict.items(object.__getattribute__(units, "_d")):
        exponent = real(power)
        if type(name) is not str or name not in BY_PINT_NAME or exponent is None or abs(exponent) > _HIGHEST_POWER:
            return None
        powers[name] = exponent
    return powers or None


def _product(registry: Registry, magnitude: float, powers: dict[str, float]) -> tuple[float, Unit | None]:
    """Return (magnitude, unit) of a product of units, the unit None when it makes none of ``_PRODUCTS``."""
    from pint.util import UnitsContainer

    if any(BY_PINT_NAME[name].quantity == "temperature" for name in powers):
        return magnitude, None
    source = UnitsContainer(powers)
    dimension = registry.get_dimensionality(source)
    for symbol in _PRODUCTS:
        target = unit(symbol)
        if dimension == registry.get_dimensionality(target.pint):
            return float(registry.convert(magnitude, source, target.pint)), target
    return magnitude, None
