"""What readings say of the path to the case, the bond and the strap."""

from __future__ import annotations

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.case_readings import CaseReadings
from dryerbench.bench.machine import Machine
from dryerbench.bench.worksite import machine_on

PULLED = ("wire T0", "wire T1", "wire T2", "wire T3")


def read(faults: tuple[str, ...], *pairs: str, cord: str = "four-wire", mode: str = "ohms") -> CaseReadings:
    bench = Bench(Machine(cord=cord), faults)
    for act in ("unplug", "cover_off"):
        bench.do(act)
    for wire in PULLED:
        bench.do("pull_wire", wire=wire)
    found = CaseReadings()
    for pair in pairs:
        reading = bench.measure(mode, *pair.split()).as_data()
        found.read(reading, four_wire=machine_on(bench).cord == "four-wire", plugged=bench.state.plugged)
    return found


@pytest.mark.parametrize(
    ("faults", "cord", "pairs", "good"),
    [
        ((), "four-wire", ("T0 case", "plug-G case"), True),
        ((), "four-wire", ("T0 case",), False),
        ((), "four-wire", ("plug-G case",), False),
        ((), "four-wire", ("T0 case", "plug-G case", "N case"), True),
        (("strap-left-on",), "four-wire", ("T0 case", "plug-G case", "N case"), False),
        (("missing-bond",), "four-wire", ("T0 case", "plug-G case"), False),
        (("element-2-grounded",), "four-wire", ("T0 case", "plug-G case"), False),
        (("element-2-grounded",), "four-wire", ("T1 case", "plug-G case"), False),
        (("leakage-to-case=50000",), "four-wire", ("T0 case", "plug-G case"), False),
        ((), "three-wire", ("T0 case", "plug-N case"), True),
        (("strap-missing",), "three-wire", ("T0 case", "plug-N case"), False),
    ],
)
def test_only_what_was_read_counts(faults: tuple[str, ...], cord: str, pairs: tuple[str, ...], good: bool) -> None:
    assert read(faults, *pairs, cord=cord).good is good


def test_the_beeper_is_no_number() -> None:
    assert not read((), "T0 case", "plug-G case", mode="continuity").complete


def test_what_was_worked_on_is_to_be_read_again() -> None:
    found = read((), "T0 case", "plug-G case")
    found.worked_on("ground wire")
    assert (bool(found.heater), bool(found.bond)) == (True, False)
    found = read((), "T0 case", "plug-G case")
    found.worked_on("element 1")
    assert (bool(found.heater), bool(found.bond)) == (False, True)


def test_with_the_plug_in_the_panel_joins_neutral_and_case() -> None:
    found = CaseReadings()
    bench = Bench()
    for act in ("open_breaker", "lock", "cover_off"):
        bench.do(act)
    reading = bench.ohms("N", "case")
    assert (reading.value or 99.0) < 1.0
    found.read(reading.as_data(), four_wire=True, plugged=True)
    assert not found.bond_bad
