"""Thousands: asked about where the other reading is likely, never where three decimals are honest."""

from __future__ import annotations

import pytest

from dryerbench.answers.thousands import two_readings


@pytest.mark.parametrize(
    ("digits", "unit", "readings"),
    [
        ("1.000", "W", ("1000 W", "1.00 W")),
        ("18.234", "BTU/h", ("18234 BTU/h", "18.23 BTU/h")),
        ("1.700", "ft/min", ("1700 ft/min", "1.70 ft/min")),
        ("10.000", "Ω", ("10000 Ω", "10.00 Ω")),
    ],
)
def test_both_readings(digits: str, unit: str, readings: tuple[str, str]) -> None:
    assert two_readings(digits, unit) == readings


@pytest.mark.parametrize(
    ("digits", "unit"),
    [
        ("1.000", "A"),
        ("26.667", "A"),
        ("0.375", "in"),
        ("27.125", "Ω"),
        ("2.133", "kW"),
        ("120.000", "V"),
        ("0.000", "W"),
        ("0.123", "W"),
        ("1.23", "W"),
        ("1.2345", "W"),
        ("1234.567", "W"),
    ],
)
def test_one_reading(digits: str, unit: str) -> None:
    assert two_readings(digits, unit) is None
