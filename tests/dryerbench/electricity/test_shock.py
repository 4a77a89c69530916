from itertools import pairwise

import pytest

from dryerbench.core.tables import table
from dryerbench.electricity.shock import body_milliamps, case_volts, shock_effect


def test_body_current_grows_with_the_volts_and_falls_with_the_ohms():
    assert body_milliamps(240.0, 1000.0) == pytest.approx(240.0)
    assert body_milliamps(240.0, 2000.0) == pytest.approx(120.0)


def test_a_good_ground_keeps_the_case_low():
    assert case_volts(30.0, 0.1) == pytest.approx(3.0)
    assert case_volts(30.0, 0.0) == 0.0


def test_each_effect_holds_from_its_row_up_to_the_next():
    rows = table("shock-effects").rows
    for row, after in pairwise(rows):
        assert shock_effect(row["milliamps"]) == row["effect"]
        assert shock_effect((row["milliamps"] + after["milliamps"]) / 2) == row["effect"]
    assert shock_effect(5000.0) == rows[-1]["effect"]


def test_more_than_the_harmless_five_is_never_called_harmless_alone():
    assert "more than that is not" in shock_effect(8.0)


def test_nothing_is_felt_below_the_first_row():
    assert shock_effect(0.0) == "not felt"
