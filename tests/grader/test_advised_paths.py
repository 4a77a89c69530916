"""Advised paths: the table is what the advice takes now, for each kind of fault."""

from __future__ import annotations

import pytest

from dryerbench.faults import Fault, fault_names
from dryerbench.tables import table
from grader.advised_paths import TABLE, advised_minutes, path_row


@pytest.mark.parametrize("name", ["element-3-grounded", "strap-left-on"])
def test_the_table_is_up_to_date(name: str) -> None:
    row = table(TABLE).row(fault=name)
    assert path_row(name) == (name, pytest.approx(row["minutes"], abs=1.0), pytest.approx(row["readings"], abs=1))


def test_every_fault_is_one_of_the_bench() -> None:
    rows = table(TABLE).rows
    assert {row["fault"] for row in rows} <= set(fault_names())
    assert len(rows) > 30
    assert all(0 < row["minutes"] < 180 for row in rows)


def test_two_faults_have_no_path_of_their_own() -> None:
    assert advised_minutes([Fault("cut-off-blown")]) == table(TABLE).row(fault="cut-off-blown")["minutes"]
    assert advised_minutes([Fault("cut-off-blown"), Fault("blocked-vent", 0.5)]) is None
    assert advised_minutes([]) is None
