"""What two probes really meet."""

from __future__ import annotations

import math

import pytest

from dryerbench.bench import probing
from dryerbench.bench.faults import read_fault
from dryerbench.bench.machine import Machine
from dryerbench.bench.meter import Meter
from dryerbench.bench.situation import Situation, settle
from dryerbench.bench.states import named_state


def there(state: str, *faults: str) -> Situation:
    return settle(Machine(), [read_fault(fault) for fault in faults], named_state(state))[0]


def test_a_part_alone() -> None:
    assert probing.part_alone(there("unplugged"), "T1", "T0") == pytest.approx(27.0)
    assert probing.part_alone(there("unplugged", "element-1-grounded"), "T1", "T0") == pytest.approx(27.0)
    assert probing.part_alone(there("unplugged"), "H1", "H2") == math.inf
    assert probing.part_alone(there("unplugged"), "H1", "H8") is None


def test_another_path_is_seen_until_the_wires_are_off() -> None:
    assert probing.reads_another_path(there("unplugged"), "T1", "T0")
    assert not probing.reads_another_path(there("elements-free"), "T1", "T0")
    assert probing.reads_another_path(there("unplugged", "element-2-open"), "T2", "T0")
    assert not probing.reads_another_path(there("all-wires-off", "element-2-open"), "T2", "T0")
    assert probing.reads_another_path(there("unplugged"), "S1", "S2")
    assert not probing.reads_another_path(there("all-wires-off"), "S1", "S2")


def test_a_phantom_is_told_from_real_volts() -> None:
    assert probing.is_phantom(Meter(), there("standing", "lost-leg-2"), "outlet-2", "outlet-N")
    assert not probing.is_phantom(Meter(), there("standing"), "L1", "L2")


def test_the_insulation_test_on_the_boards_sensor_line() -> None:
    assert probing.stresses_board(Meter(), there("unplugged"), "S1", "S2")
    assert not probing.stresses_board(Meter(), there("all-wires-off"), "S1", "S2")
    assert not probing.stresses_board(Meter(), there("unplugged"), "L1", "case")


def test_a_fed_case() -> None:
    assert probing.case_is_fed(there("heating", "element-1-grounded=0.9", "missing-bond"))
    assert not probing.case_is_fed(there("heating"))
    assert not probing.case_is_fed(there("unplugged", "element-1-grounded"))


def test_a_damp_path_of_20_kilohms_takes_less_than_6_milliamperes() -> None:
    now = there("heating", "leakage-to-case=20000")
    amps = abs(now.live.amps("damp path"))
    assert amps == pytest.approx(117.2 / 20000, rel=0.01)
    assert probing.case_is_fed(now) is (amps > 0.006)
