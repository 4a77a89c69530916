"""Checks 13 and 26: the element's wire and the copper that feeds it."""

import pytest

from dryerbench.electricity.conductors import constant_factor, hot_factor, run_drop, run_ohms


@pytest.mark.parametrize(("celsius", "factor"), [(-5.0, 0.99), (20.0, 1.00), (45.0, 1.01)])
def test_13_nichrome_within_one_percent(celsius, factor):
    """OpenStax College Physics 2e (read): with α = 0.0004/°C, -5 to 45 °C keeps it within ±1 % about 20 °C."""
    assert constant_factor(celsius, 0.0004) == pytest.approx(factor)


def test_13_hot_the_table_counts_and_not_the_constant():
    """Handbook table of 80/20 wire (read as reprinted): 1.026 at 500 °C; the constant would say 1.19 (arithmetic)."""
    assert hot_factor(500.0) == pytest.approx(1.026, abs=0.0005)
    assert constant_factor(500.0, 0.0004) == pytest.approx(1.19, abs=0.005)


def test_26_ten_gauge_copper():
    """NEC chapter 9 table 8 as reprinted (read at second hand): 1.21 Ω/kft; 50 ft, out and back, at 80/3 A: 3.227 V."""
    assert run_ohms(500.0, 10) == pytest.approx(1.21)
    assert run_drop(80.0 / 3.0, 50.0, 10) == pytest.approx(3.227, abs=0.0005)
