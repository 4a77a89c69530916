"""Item analysis at its edges; its formulas are held against published numbers in tests/published."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from legtoleg.report.item_analysis import cronbach_alpha, difficulty, discrimination, items, kr20


def test_by_hand() -> None:
    shares = pd.DataFrame([[1.0, 1, 1], [1, 1, 0], [1, 0, 0], [0, 0, 0]])
    assert difficulty(shares) == [0.75, 0.5, 0.25]
    found = discrimination(shares)
    assert found[1] == pytest.approx(np.corrcoef([1, 1, 0, 0], [2, 1, 1, 0])[0, 1])
    assert kr20(shares) == pytest.approx(1.5 * (1 - (0.1875 + 0.25 + 0.1875) / 1.25))
    assert cronbach_alpha(shares) == pytest.approx(kr20(shares))


@pytest.mark.parametrize(
    "shares", [np.ones((5, 3)), np.zeros((4, 2)), np.array([[1.0, 0.0]]), np.array([[1.0], [0.0]])]
)
def test_where_nobody_differs_there_is_no_number(shares: np.ndarray | pd.DataFrame) -> None:
    shares = pd.DataFrame(shares)
    assert cronbach_alpha(shares) is None
    assert kr20(shares) is None
    assert all(item.discrimination is None for item in items(shares))


def test_somebody_without_an_answer_is_left_out() -> None:
    shares = pd.DataFrame([[1.0, 1], [0, 0], [np.nan, 1], [1, 0]])
    assert difficulty(shares) == [pytest.approx(2 / 3), 0.5]
    assert discrimination(shares)[0] == pytest.approx(0.5)
