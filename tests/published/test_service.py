"""Check 27: what a service reckons for one household dryer."""

import pytest

from dryerbench.electricity.supply import dryer_demand


@pytest.mark.parametrize(("nameplate", "demand"), [(4500.0, 5000.0), (5000.0, 5000.0), (5600.0, 5600.0)])
def test_27_the_greater_of_5000_va_and_the_nameplate(nameplate, demand):
    """NEC 220.54 as quoted (read at second hand)."""
    assert dryer_demand(nameplate) == demand
