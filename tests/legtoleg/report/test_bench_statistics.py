"""The bench over a cohort: minutes, and who named a fault on what, counted once each."""

from __future__ import annotations

import pytest

from legtoleg.marking.bench_work import BenchWork
from legtoleg.marking.outcomes import Outcome
from legtoleg.report.bench_statistics import bench_numbers


def outcome(points: float, work: BenchWork | None) -> Outcome:
    return Outcome("q", points, 4.0, "n", "M", work=work)


def test_who_named_a_fault_on_what() -> None:
    found = bench_numbers(
        [
            outcome(4.0, BenchWork(10.0, 20.0, "settles")),
            outcome(2.0, BenchWork(14.0, 22.0, "thin")),
            outcome(0.0, BenchWork(40.0, 24.0, "settles")),
            outcome(0.0, BenchWork(2.0, 20.0, "thin")),
            outcome(0.0, BenchWork(1.0, 20.0)),  # an unsafe act: nothing is said of its evidence
            outcome(0.0, None),
        ]
    )
    assert found is not None
    assert (found.people, found.least, found.median, found.most, found.advised) == (5, 1.0, 10.0, 40.0, 20.0)
    assert (found.named, found.shown, found.thin, found.unread) == (4, 1, 1, 1)
    assert found.settled == pytest.approx(0.5)


def test_work_without_a_fault_to_name() -> None:
    found = bench_numbers([outcome(4.0, BenchWork(17.0))])
    assert found is not None
    assert (found.advised, found.named, found.settled) == (None, 0, None)


def test_marks_without_bench_work_have_no_numbers() -> None:
    assert bench_numbers([outcome(4.0, None)]) is None
    assert bench_numbers([]) is None
