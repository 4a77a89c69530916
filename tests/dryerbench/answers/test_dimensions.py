"""Dimensions: as pint has them, and no sum of unlike things."""

from __future__ import annotations

import pytest

from dryerbench.answers import units
from dryerbench.answers.dimensions import DIMENSIONS, of_number
from dryerbench.answers.units import UNITS, unit
from dryerbench.core.errors import SumError

BASE = ("[mass]", "[length]", "[time]", "[current]")


@pytest.mark.parametrize("quantity", sorted({row.quantity for row in UNITS} - {"temperature"}))
def test_each_quantity_has_the_dimension_and_the_size_that_pint_gives_it(quantity: str) -> None:
    symbol, size, powers = DIMENSIONS[quantity]
    registry = units.application_registry()
    found = registry.get_dimensionality(unit(symbol).pint)
    assert {name: power for name, power in zip(BASE, powers, strict=True) if power} == dict(found)
    assert registry.Quantity(1.0, unit(symbol).pint).to_base_units().magnitude == pytest.approx(size)


def test_products_and_sums() -> None:
    volts, ohms = of_number(240.0, "V"), of_number(27.0, "Ω")
    assert volts.over(ohms).told() == (pytest.approx(80 / 9), "A")
    assert volts.to_the(2).over(ohms).told() == (pytest.approx(6400 / 3), "W")
    assert of_number(250.0, "mA").plus(of_number(1.0, "A"), 1).told() == (pytest.approx(1250.0), "mA")
    assert of_number(50.0, "%").times(of_number(50.0, "%")).told() == (pytest.approx(25.0), "%")
    assert of_number(0.5, "").times(of_number(50.0, "%")).told() == (pytest.approx(25.0), "%")
    assert of_number(155.0, "°F").plus(of_number(135.0, "°F"), -1).told() == (20.0, "°F")


@pytest.mark.parametrize(
    "work",
    [
        lambda: of_number(1.0, "V").plus(of_number(1.0, "A"), 1),
        lambda: of_number(1.0, "V").plus(of_number(1.0, ""), 1),
        lambda: of_number(1.0, "W").plus(of_number(1.0, "VA"), 1),
        lambda: of_number(1.0, "V").over(of_number(0.0, "A")),
        lambda: of_number(135.0, "°F").plus(of_number(135.0, "°F"), 1),
        lambda: of_number(135.0, "°F").plus(of_number(57.0, "°C"), -1),
        lambda: of_number(135.0, "°F").times(of_number(2.0, "")),
        lambda: of_number(135.0, "°F").over(of_number(2.0, "")),
        lambda: of_number(2.0, "").over(of_number(135.0, "°F")),
        lambda: of_number(135.0, "°F").to_the(2),
        lambda: of_number(1e30, "V").to_the(4),
        lambda: of_number(1.0, "V").counted_in("A"),
        lambda: of_number(1.0, "").told(),
        lambda: of_number(1.0, "V").times(of_number(1.0, "V")).told(),
        lambda: of_number(1.0, "").over(of_number(1.0, "s")).told(),
    ],
)
def test_what_comes_to_nothing_is_said(work) -> None:
    with pytest.raises(SumError) as caught:
        work()
    assert len(str(caught.value).splitlines()) == 1
