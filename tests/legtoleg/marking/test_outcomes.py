"""Outcomes: data that comes back as it was, and the rule by which a lesson is signed off."""

from __future__ import annotations

import json

import pytest

from legtoleg.marking.bench_work import BenchWork
from legtoleg.marking.outcomes import Outcome, earned, signed_off


def outcome(points: float, of: float = 10.0, safety: str = "") -> Outcome:
    return Outcome("q", points, of, "n", "M", "8.9 A", safety)


@pytest.mark.parametrize(
    ("outcomes", "signed"),
    [
        ([], False),
        ([outcome(8.0)], True),
        ([outcome(7.9)], False),
        ([outcome(10.0), outcome(6.0)], True),
        ([outcome(10.0, safety="clear"), outcome(6.0)], True),
        ([outcome(10.0, safety="held"), outcome(10.0)], False),
        ([outcome(0.0, 1.0, "open"), outcome(10.0), outcome(10.0)], False),
    ],
)
def test_signed_off_is_four_fifths_and_every_safety_question(outcomes: list[Outcome], signed: bool) -> None:
    assert signed_off(outcomes) is signed


def test_an_outcome_comes_back_from_its_data() -> None:
    one = outcome(2.5, 4.0, "held")
    assert Outcome.from_data(json.loads(json.dumps(one.as_data()))) == one
    assert (one.full, outcome(4.0, 4.0).full) == (False, True)


def test_points_are_added_up_as_a_page_shows_them() -> None:
    assert earned([outcome(2.5, 4.0), outcome(1.0, 2.0)]) == {"points": "3.5", "max_points": "6"}
    assert (outcome(10.0).full, outcome(9.5).full) == (True, False)


@pytest.mark.parametrize(("points", "sentences"), [(0.0, 2), (0.5, 1), (4.0, 1)])
def test_readings_that_single_a_fault_out_are_recalled_where_nothing_was_earned(points: float, sentences: int) -> None:
    one = Outcome("q", points, 4.0, "n", "M", work=BenchWork(19.0, None, "settles"))
    assert len(one.work_words()) == sentences
