"""Tasks of lesson 05: the right models on round numbers, wrong models that are wrong, drills that tell them apart."""

from __future__ import annotations

from dryerbench.topics.path_to_case.models import TASKS


def test_the_cap_is_a_slip_only_where_it_bites() -> None:
    assert TASKS["leak_limit"].slip_values({"kilowatts": 8.0})["leak_cap_forgotten"] == 6.0
    assert TASKS["leak_limit"].value({"kilowatts": 8.0}) == 5.0
    assert "leak_cap_forgotten" not in TASKS["leak_limit"].slip_values({"kilowatts": 6.0})
