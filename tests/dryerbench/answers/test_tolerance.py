"""Bands: what counts, and that the words say just that."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dryerbench.answers.tolerance import (
    Band,
    accuracy_band,
    figures_band,
    in_words,
    last_place,
    rounded,
    rounded_number,
    standard_uncertainty,
)

NUMBERS = st.floats(1e-6, 1e6)


def test_one_unit_in_the_last_figure() -> None:
    band = figures_band(8.8889, 3)
    assert (band.low, band.high) == pytest.approx((8.88, 8.90))
    assert in_words(band, "A") == "anything from 8.88 A to 8.90 A"
    assert in_words(figures_band(6400.0, 3), "W") == "anything from 6390 W to 6410 W"


@given(NUMBERS, st.integers(1, 5))
def test_the_number_itself_counts_and_so_does_its_rounding(number: float, figures: int) -> None:
    band = figures_band(number, figures)
    assert number in band
    assert float(rounded(number, figures)) in band
    assert number * 1.5 not in figures_band(number, max(figures, 2))


@given(NUMBERS, st.integers(2, 5))
def test_the_words_are_true(number: float, figures: int) -> None:
    band = figures_band(number, figures)
    low, high = (float(text) for text in re.findall(r"[\d.]+", in_words(band, "V")))
    for told in (low, high):
        assert told in band
    assert low - band.step / 2 not in band
    assert high + band.step / 2 not in band


def test_zero_and_exact() -> None:
    assert 0.0 in figures_band(0.0, 3)
    assert 0.01 not in figures_band(0.0, 3)
    assert in_words(Band(30.0, 30.0), "A") == "exactly 30 A"


def test_last_place() -> None:
    assert last_place(240.0, 3) == 1.0
    assert last_place(0.0123, 2) == pytest.approx(0.001)
    assert rounded(0.0, 3) == "0"
    assert (rounded(9.996, 3), rounded(0.9951, 2), rounded(99.96, 3)) == ("10.0", "1.0", "100")
    assert [rounded_number(number, 2) for number in (26.5, 0.125, -26.5, 0.0)] == [27.0, 0.13, -27.0, 0.0]


def test_accuracy_band_of_a_meter() -> None:
    band = accuracy_band(240.0, 1.0, 3, 0.1)
    assert (band.high - band.low) / 2 == pytest.approx(2.7)
    assert standard_uncertainty(band) == pytest.approx(2.7 / math.sqrt(3))


@pytest.mark.parametrize(
    ("number", "told", "inside", "outside"),
    [
        (9.996, "10.0", (9.99, 9.996, 10.0, 10.00, 10.1), (9.98, 10.2)),
        (99.96, "100", (99.9, 100.0, 101.0), (99.8, 102.0)),
        (0.9996, "1.00", (0.999, 1.0, 1.01), (0.998, 1.02)),
        (-9.996, "-10.0", (-9.99, -10.0, -10.1), (-9.98, -10.2)),
        (9.994, "9.99", (9.98, 9.99, 10.0), (9.97, 10.1)),
        (10.04, "10.0", (9.9, 10.0, 10.1), (9.8, 10.2)),
    ],
)
def test_the_edge_of_a_decade(number: float, told: str, inside: tuple[float, ...], outside: tuple[float, ...]) -> None:
    assert rounded(number, 3) == told
    band = figures_band(number, 3)
    assert all(one in band for one in inside)
    assert not [one for one in outside if one in band]
