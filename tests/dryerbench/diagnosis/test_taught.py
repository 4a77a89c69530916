"""What the lessons teach holds on the bench: a sound machine shows the sound band, the fault its own."""

from __future__ import annotations

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import fault_names, read_fault
from dryerbench.bench.machine import Machine
from dryerbench.bench.wiring import pullable
from dryerbench.core.random_stream import Stream
from dryerbench.diagnosis.service_calls import draw_machine
from dryerbench.diagnosis.taught import TaughtReading, taught, taught_by
from dryerbench.registry import SHEETS

ROWS = taught()
MACHINES = [Machine(), *(draw_machine(f"m{n}", Stream(f"test/taught/{n}"), 26.0 + n) for n in range(3))]


@pytest.mark.parametrize("row", ROWS, ids=[f"{row.fault} {row.mode}" for row in ROWS])
def test_the_bands_are_what_the_bench_shows(row: TaughtReading) -> None:
    assert row.fault in fault_names()
    assert row.lesson in SHEETS
    assert row.pulled <= set(pullable())
    for machine in MACHINES:
        sound, faulty = row.shown(machine, ()), row.shown(machine, (read_fault(row.fault),))
        assert row.is_sound(sound)
        assert not row.is_faulty(sound)
        assert row.is_faulty(faulty)


def test_lessons_build_on_those_before() -> None:
    assert set(taught_by("05_path_to_case")) < set(taught_by("10_call_to_close")) == set(ROWS)
    assert not [row for row in taught_by("05_path_to_case") if row.fault == "run-winding-open"]


def test_the_motor_s_winding_is_read_with_the_start_winding_s_wire_off() -> None:
    shown = {}
    for fault in ((), ("run-winding-open",)):
        bench = Bench(faults=fault)
        for act in ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off"):
            bench.do(act)
        both = bench.ohms("W1", "W0").value
        bench.do("pull_wire", wire="wire W2")
        shown[fault] = (both, bench.ohms("W1", "W0").value)
    assert shown[()][0] == pytest.approx(1.6, abs=0.3)
    assert shown[()][1] == pytest.approx(2.4, abs=0.3)
    assert shown["run-winding-open",][0] == pytest.approx(3.7, abs=0.4)
    assert shown["run-winding-open",][1] is None
