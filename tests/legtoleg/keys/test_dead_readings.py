"""Dead readings: what counts holds everything that the bench's meter shows, and nothing that tells another story."""

from __future__ import annotations

import pytest

from dryerbench.bench.machine import Machine
from dryerbench.bench.meter_ranges import ranges
from dryerbench.core.sealed import Sealed
from dryerbench.course.bench_card import BenchCard, Dealt, machine_of, open_bench
from legtoleg.keys.dead_readings import expected, true_ohms

PULLED = ("wire T1", "wire T2", "wire T3")
POINTS = ("T1", "T2", "T3", "T0", "case", "H8")


def card(number: int, fault: str = "element-2-grounded=0.3") -> BenchCard:
    machine = Machine(name=f"m{number}", element_ohms=(26.5, 27.3, 27.9))
    return BenchCard("demo-01", "a_lesson", Sealed(Dealt(machine, (fault,))))


@pytest.mark.parametrize("nulled", [True, False])
def test_whatever_the_bench_shows_counts(nulled: bool) -> None:
    for number in range(40):
        bench = open_bench(card(number))
        for act in ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off"):
            bench.do(act)
        bench.do("test_dead", where="block")
        bench.do("prove_meter")
        for wire in PULLED:
            bench.do("pull_wire", wire=wire)
        if nulled:
            bench.do("null_leads")
        for place, a in enumerate(POINTS):
            for b in POINTS[place + 1 :]:
                shown, counts = bench.ohms(a, b), expected(card(number), a, b, PULLED)
                if shown.value is None:
                    assert counts.over_limit, (a, b)
                else:
                    assert counts.low <= shown.value <= counts.high, (a, b, shown)
        assert not bench.findings


def test_the_two_readings_of_the_grounded_element_add_up() -> None:
    one = card(1)
    for number, alone in enumerate(machine_of(one).element_ohms, start=1):
        own, shared = true_ohms(one, f"T{number}", "case", PULLED), true_ohms(one, "T0", "case", PULLED)
        assert true_ohms(one, f"T{number}", "T0", PULLED) == pytest.approx(alone, abs=0.05)
        assert (abs(own + shared - alone) < 0.1) == (number == 2)


def test_bands_are_narrow_enough_to_tell_elements_from_slips() -> None:
    counts = expected(card(1), "T1", "T0", PULLED)
    assert counts.high - counts.low < 1.7
    assert not counts.low <= true_ohms(card(1), "T1", "T0") <= counts.high


def test_above_the_last_range_is_over_limit() -> None:
    assert expected(card(1, "element-1-open"), "T1", "T0", PULLED).over_limit
    damp = expected(card(1, "leakage-to-case=1e6"), "T0", "case", PULLED)
    assert damp.low < 1e6 < damp.high
    assert not damp.over_limit
    assert ranges("ohms")[-1].full_scale == 4e7
