"""Every way to get hurt that was found by hand is found by the bench, and what is safe is not blamed."""

from __future__ import annotations

import pytest

from dryerbench.bench.bench import Bench

from .hazard_cases import CASES, Case, done


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.title)
def test_a_case(case: Case) -> None:
    names = {one.name for one in done(case.acts, Bench(faults=case.faults)).findings}
    assert case.found <= names
    assert not case.not_found & names
    if case.safe:
        assert not names
