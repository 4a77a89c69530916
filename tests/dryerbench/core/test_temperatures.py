import numpy as np
import pytest

from dryerbench.core.errors import OutOfRangeError
from dryerbench.core.temperatures import celsius, fahrenheit, kelvin


def test_fixed_points_both_ways():
    assert fahrenheit(0.0) == 32.0
    assert celsius(212.0) == 100.0
    assert fahrenheit(-40.0) == -40.0
    assert np.allclose(celsius(fahrenheit(np.linspace(-40, 200, 25))), np.linspace(-40, 200, 25))


@pytest.mark.parametrize("value", [-273.15, -300.0, float("nan"), float("inf")])
def test_no_temperature_below_absolute_zero(value):
    with pytest.raises(OutOfRangeError, match="absolute zero"):
        kelvin(value)
