"""What a person gets: the current through a body, and the volts on a case with a fault."""

from __future__ import annotations

from dryerbench.core.tables import table


def body_milliamps(volts: float, body_ohms: float) -> float:
    """Return the mA through a body of ``body_ohms`` Ω at ``volts`` V: 1000·V/R (OpenStax College Physics 2e)."""
    return 1000.0 * volts / body_ohms


def case_volts(fault_amps: float, ground_ohms: float) -> float:
    """Return the volts that a fault current lifts the case to through the ground wire: V = I·R.

    Source: OpenStax College Physics 2e, electrical safety.
    """
    return fault_amps * ground_ohms


def shock_effect(milliamps: float) -> str:
    """Return what ``milliamps`` mA through the trunk do to a person, by the table ``shock-effects``.

    Thresholds: OpenStax College Physics 2e, effects of electric shock. They are for an average man, 60 Hz, a
    second; no current through a person is a test.
    """
    reached = [row["effect"] for row in table("shock-effects").rows if row.number("milliamps") <= milliamps]
    return str(reached[-1]) if reached else "not felt"
