"""Degrees: the trade speaks Fahrenheit, the physics Celsius and kelvin."""

from __future__ import annotations

import math
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from dryerbench.core.errors import OutOfRangeError

Floats = NDArray[np.float64]
FloatOrFloats = TypeVar("FloatOrFloats", float, Floats)

KELVIN_AT_ZERO_CELSIUS = 273.15


def fahrenheit(celsius: FloatOrFloats) -> FloatOrFloats:
    """Return a temperature in °F from °C, a float or an array.

    Examples
    --------
    >>> fahrenheit(100.0)
    212.0
    """
    return celsius * 1.8 + 32.0


def celsius(fahrenheit: FloatOrFloats) -> FloatOrFloats:
    """Return a temperature in °C from °F, a float or an array.

    Examples
    --------
    >>> celsius(212.0)
    100.0
    """
    return (fahrenheit - 32.0) / 1.8


def kelvin(celsius: float) -> float:
    """Return a temperature in K from °C.

    Raises
    ------
    OutOfRangeError
        If it is not above absolute zero.
    """
    if not (math.isfinite(celsius) and celsius > -KELVIN_AT_ZERO_CELSIUS):
        raise OutOfRangeError(f"{celsius:g} °C is no temperature: it is at or below absolute zero (-273.15 °C).")
    return celsius + KELVIN_AT_ZERO_CELSIUS
