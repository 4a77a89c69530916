"""A closed contact is not quite nothing: its milliohms drop millivolts, and at heater current make watts."""

from __future__ import annotations

import math

from dryerbench.core.errors import OutOfRangeError

GOOD_CONTACT_MILLIVOLTS = 300.0
"""A drop at heater current above which a contact is suspect [mV]; common practice, no published source."""


def _check(ohms: float, amps: float) -> None:
    if not (math.isfinite(ohms) and ohms >= 0):
        raise OutOfRangeError(f"A contact's resistance is 0 Ω or more, not {ohms:g} Ω.")
    if not (math.isfinite(amps) and amps >= 0):
        raise OutOfRangeError(f"A current here is 0 A or more, not {amps:g} A.")


def millivolts(ohms: float, amps: float) -> float:
    """Return the drop [mV] across a contact of ``ohms`` [Ω] that carries ``amps`` [A] (Ohm's law).

    Raises
    ------
    OutOfRangeError
        If the ohms or amps are negative or no number.

    Examples
    --------
    >>> millivolts(0.5, 10.0)
    5000.0
    """
    _check(ohms, amps)
    return 1000.0 * ohms * amps


def watts(ohms: float, amps: float) -> float:
    """Return the heat [W] made in a contact of ``ohms`` [Ω] that carries ``amps`` [A] (Joule's law).

    Raises
    ------
    OutOfRangeError
        If the ohms or amps are negative or no number.

    Examples
    --------
    >>> watts(2.0, 10.0)
    200.0
    """
    _check(ohms, amps)
    return ohms * amps * amps


def ohms_from_drop(drop_millivolts: float, amps: float) -> float:
    """Return the resistance [Ω] of a contact that drops ``drop_millivolts`` [mV] at ``amps`` [A].

    An ohmmeter cannot tell 0.02 Ω from its own leads; the drop under load can. That is a live measurement:
    a qualified person's work.

    Raises
    ------
    OutOfRangeError
        If there is no current, or a number is negative.
    """
    _check(drop_millivolts, amps)
    if amps == 0:
        raise OutOfRangeError("With no current there is no drop to measure: the heater must be on.")
    return drop_millivolts / 1000.0 / amps
