"""Sixty days of somebody who forgets by FSRS' own model: what the sets keep, beside a fixed order and no practice."""

from __future__ import annotations

import pytest
from tests.dryerbench.recall.simulated_forgetter import FIXED, NONE, SAME, SETS, Kept, table

from dryerbench.recall.memory import KEPT


@pytest.fixture(scope="module")
def short() -> dict[str, Kept]:
    return table(8, minutes=3.0)


def test_ten_minutes_keep_what_the_lessons_taught_in_less_time_than_a_fixed_order() -> None:
    kept = table(8)
    assert kept[SETS].every > 0.9
    assert kept[SETS].safety > KEPT + 0.03
    assert kept[SETS].minutes < 0.7 * kept[FIXED].minutes
    assert kept[NONE].safety < 0.7


def test_where_time_is_short_safety_is_kept_first(short: dict[str, Kept]) -> None:
    assert short[SETS].safety > short[SAME].safety + 0.03
    assert short[SETS].safety > short[NONE].safety + 0.2
