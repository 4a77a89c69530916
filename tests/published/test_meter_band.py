"""Check 18: the band that a meter's accuracy leaves."""

import pytest

from dryerbench.answers.tolerance import accuracy_band, standard_uncertainty


def test_18_one_percent_and_three_counts_at_240_volts():
    """Arithmetic: 2.40 V + 3 x 0.1 V. Standard uncertainty: rectangular, JCGM 100:2008 (the GUM), 4.3.7."""
    band = accuracy_band(240.0, 1.0, 3, 0.1)
    assert (band.low, band.high) == pytest.approx((240.0 - 2.7, 240.0 + 2.7))
    assert standard_uncertainty(band) == pytest.approx(1.559, abs=0.0005)
