"""Sixty days of somebody who forgets by FSRS' own model: what the sets keep, beside a fixed order and no practice.

At equal minutes, the same twelve people, memories of all strengths. Ten minutes keep more of everything. Three minutes
or less do not hold all the cards there are, nearly half of them safety: safety goes first, and what the sets gain there
costs drills, each of which takes the time of three questions. So over all cards they keep as much as a fixed order.
"""

from __future__ import annotations

from functools import cache

import pytest
from tests.dryerbench.recall.simulated_forgetter import FIXED, LIVES, NONE, SAME, SETS, Kept, ahead, mean, table

PEOPLE = 12
OFTEN, SELDOM, UNEVEN = "10 min", "3 min", "3 min, half of the days missed, unevenly learned"


@cache
def kept(life: str) -> dict[str, list[Kept]]:
    return table(PEOPLE, LIVES[life])


@pytest.mark.parametrize("life", [OFTEN, SELDOM, UNEVEN])
def test_the_sets_keep_more_than_a_fixed_order_in_the_same_minutes(life: str) -> None:
    found = kept(life)
    by = ahead(found[SETS], found[SAME])
    assert abs(by["minutes"][0]) < 0.02
    for figure in ("safety", "safety_end", "every", "every_end")[: 4 if life == OFTEN else 2]:
        mean_ahead, spread = by[figure]
        assert mean_ahead > 2 * spread / PEOPLE**0.5, figure  # two standard errors of the mean
    assert min(by["every"][0], by["every_end"][0]) > -0.02


def test_ten_minutes_keep_nearly_everything_and_leave_nothing_to_fade() -> None:
    sets, fixed, none = (mean(kept(OFTEN)[way]) for way in (SETS, FIXED, NONE))
    assert sets.safety_end > 0.97
    assert sets.every_end > 0.97
    assert sets.low > fixed.low + 0.05
    assert sets.minutes < fixed.minutes
    assert none.safety_end < 0.7


@pytest.mark.parametrize("life", [SELDOM, UNEVEN])
def test_where_time_is_short_safety_is_kept_first_and_the_rest_is_not_given_up(life: str) -> None:
    sets, same, none = (mean(kept(life)[way]) for way in (SETS, SAME, NONE))
    assert sets.low > same.low - 0.02
    assert sets.safety > same.safety + 0.05
    assert sets.safety > 0.85
    assert sets.safety_end > 0.9
    assert sets.drills_end > none.drills_end + 0.02
