"""Bench work: carried as data, read back from marks of any age, and said in plain words."""

from __future__ import annotations

import json
from typing import Any

import pytest

from legtoleg.marking.bench_work import BenchWork
from legtoleg.marking.outcomes import Outcome

OLD = {"question": "q", "points": 2.0, "max_points": 4.0, "note": "thin", "message": "M", "answer": "a", "safety": ""}
THIN = BenchWork(19.4, 21.0, "thin", ("coil 1 open", "leg 1 lost"))


def test_it_comes_back_as_it_was_written() -> None:
    outcome = Outcome("q", 2.0, 4.0, "thin", "M", work=THIN)
    assert Outcome.from_data(json.loads(json.dumps(outcome.as_data()))) == outcome


def test_marks_made_before_it_was_kept_are_read() -> None:
    assert Outcome.from_data(dict(OLD)) == Outcome("q", 2.0, 4.0, "thin", "M", "a")
    assert "work" not in Outcome.from_data(dict(OLD)).as_data()


@pytest.mark.parametrize("data", [None, 7, {}, {"minutes": "9"}, {"minutes": float("nan")}, {"minutes": True}])
def test_what_is_no_bench_work_is_none(data: Any) -> None:
    assert BenchWork.from_data(data) is None


def test_strange_parts_are_left_out() -> None:
    assert BenchWork.from_data({"minutes": 3, "advised": "x", "left": "abc"}) == BenchWork(3.0)


@pytest.mark.parametrize(
    ("work", "right", "says"),
    [
        (BenchWork(17.2), True, ["On the bench: 17 minutes."]),
        (BenchWork(1.2), True, ["On the bench: 1 minute."]),
        (
            BenchWork(19.0, 21.4, "settles"),
            True,
            [
                "On the bench: 19 minutes.",
                "Our suggested way takes longer, about 21 minutes.",
            ],
        ),
        (
            BenchWork(19.0, None, "settles"),
            False,
            ["On the bench: 19 minutes.", "Your readings do leave only the true fault. Look at them again."],
        ),
        (
            BenchWork(21.4, 21.4, "settles"),
            True,
            ["On the bench: 21 minutes.", "Our suggested way takes about 21 minutes."],
        ),
        (
            BenchWork(5.0, None, "thin", tuple("abcdef")),
            True,
            ["On the bench: 5 minutes.", "Your readings still fit: a; b; c; d; and 2 more."],
        ),
        (
            BenchWork(5.0, None, "thin", tuple("abcde")),
            True,
            ["On the bench: 5 minutes.", "Your readings still fit: a; b; c; d; e."],
        ),
    ],
)
def test_it_is_said_in_plain_words(work: BenchWork, right: bool, says: list[str]) -> None:
    assert work.words(right=right) == says


@pytest.mark.parametrize(
    ("left", "says"),
    [
        (("a",), ["Your readings leave 1 fault possible: keep reading until one is left."]),
        (("a", "b"), ["Your readings leave 2 faults possible: keep reading until one is left."]),
        ((), []),
    ],
)
def test_what_is_left_is_counted_and_not_named_before_sign_off(left: tuple[str, ...], says: list[str]) -> None:
    assert BenchWork(5.0, None, "thin", left).words(right=True, named=False) == ["On the bench: 5 minutes.", *says]


def test_no_bench_says_nothing() -> None:
    assert Outcome("q", 1.0, 1.0, "right", "Right.").work_words() == []
