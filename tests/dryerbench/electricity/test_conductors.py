"""Wire: the table of 80/20 wire and the copper run (numbers from outside are in tests/published)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dryerbench.core.errors import TableError
from dryerbench.core.tables import table
from dryerbench.electricity.conductors import (
    breaker_limit,
    constant_factor,
    hot_factor,
    hottest_celsius,
    run_drop,
    run_ohms,
)


def test_every_row_of_the_table_is_met() -> None:
    rows = table("nichrome-80-20")
    for celsius, factor in zip(rows.column("celsius"), rows.column("factor"), strict=True):
        assert hot_factor(celsius) == pytest.approx(factor, abs=1e-12)


def test_halfway_is_halfway() -> None:
    assert hot_factor(450.0) == pytest.approx((1.025 + 1.026) / 2)


@given(st.floats(20.0, 1200.0))
def test_it_hardly_changes_and_the_constant_coefficient_is_wrong(celsius: float) -> None:
    assert 1.0 <= hot_factor(celsius) <= 1.026
    if celsius > 200:
        assert constant_factor(celsius, 0.0004) > hot_factor(celsius) + 0.05


@pytest.mark.parametrize("celsius", [19.9, 1200.1, -40.0])
def test_outside_the_table_it_says_so(celsius: float) -> None:
    with pytest.raises(TableError, match="runs from 20 to 1200"):
        hot_factor(celsius)


@given(st.floats(0.0, 40.0), st.floats(0.0, 300.0), st.sampled_from([14, 12, 10, 8]))
def test_a_run_counts_both_ways(amps: float, feet: float, awg: int) -> None:
    per_foot = table("copper-conductors").row(awg=awg)["ohms_per_kft"] / 1000
    assert run_ohms(feet, awg) == pytest.approx(2 * feet * per_foot)
    assert run_drop(amps, feet, awg) == pytest.approx(amps * run_ohms(feet, awg))


def test_a_thinner_wire_loses_more_and_has_a_smaller_breaker() -> None:
    for thin, thick in ((14, 12), (12, 10), (10, 8)):
        assert run_ohms(50, thin) > run_ohms(50, thick)
        assert breaker_limit(thin) < breaker_limit(thick)


def test_a_gauge_that_the_table_lacks() -> None:
    with pytest.raises(TableError, match="awg = 3"):
        run_ohms(50, 3)
    assert hottest_celsius() == 1200.0
