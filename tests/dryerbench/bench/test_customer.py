"""The job around the machine."""

from __future__ import annotations

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.customer import TALKS
from dryerbench.bench.worksite import BenchError


def test_whoever_is_phoned_knows() -> None:
    for about in TALKS:
        bench = Bench()
        assert "customer" in bench.do("phone_customer", about=about)["happened"][0]
        assert bench.trail[-1]["scene"]["told"]
    with pytest.raises(BenchError, match="not 'weather'"):
        Bench().do("phone_customer", about="weather")


def test_a_part_is_ordered_after_a_yes_to_its_price() -> None:
    bench = Bench()
    bench.do("unplug")
    assert "yes to the price yet" in bench.do("order_part", part="element 1")["happened"][-1]
    bench.do("phone_customer", about="the price")
    assert len(bench.do("order_part", part="element 1")["happened"]) == 1
    with pytest.raises(BenchError, match="cannot be ordered"):
        bench.do("order_part", part="breaker 2")


def test_a_job_ends() -> None:
    bench = Bench()
    assert bench.do("leave")["happened"] == ["the job is done"]
    bench.do("press_start")
    assert "runs on" in bench.do("leave")["happened"][0]
    assert bench.findings == []
