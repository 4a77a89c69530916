"""Shown evidence: numbers that leave one fault alone, and a beeper that does not."""

from __future__ import annotations

from typing import Any

from dryerbench.bench.bench import Bench
from legtoleg.keys.singled_out import singled_out


def opened() -> Any:
    bench = Bench(faults=["element-2-shorted=0.5"])
    for act in ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off"):
        bench.do(act)
    for number in "123":
        bench.do("pull_wire", wire=f"wire T{number}")
    return bench


def test_numbers_single_out_what_they_show() -> None:
    bench = opened()
    for number in "123":
        bench.ohms(f"T{number}", "T0")
    assert singled_out(bench, "element-2-shorted")
    assert not singled_out(bench, "element-1-shorted")


def test_nothing_read_singles_out_nothing() -> None:
    assert not singled_out(opened(), "element-2-shorted")


def test_one_sound_element_is_not_enough() -> None:
    bench = opened()
    bench.ohms("T1", "T0")
    assert not singled_out(bench, "element-2-shorted")
