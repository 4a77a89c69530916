"""A second fault stays possible until a reading has cleared it; what a reading rules out is ruled out."""

from __future__ import annotations

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import Machine
from dryerbench.diagnosis.hypotheses import Hypotheses, seen_on

MACHINES = [Machine(name=f"m{n}") for n in range(6)]


def read(machine: Machine, faults: tuple[str, ...], *pairs: str) -> Hypotheses:
    bench = Bench(machine, faults)
    for act in ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off"):
        bench.do(act)
    for wire in ("wire T1", "wire T2", "wire T3", "wire T0", "wire H3", "wire H7"):
        bench.do("pull_wire", wire=wire)
    for pair in pairs:
        bench.ohms(*pair.split())
    return Hypotheses(machine, bench.trail)


@pytest.mark.parametrize("machine", MACHINES, ids=lambda machine: machine.name)
def test_what_was_not_read_stays_possible_beside_what_was_found(machine: Machine) -> None:
    found = read(machine, ("element-2-open",), "T2 T0", "T1 T0")
    suspects = ["element-1-open", "element-3-open", "blocked-vent", "element-1-grounded"]
    left = found.left("element-2-open", ["element-2-open"], ["element-1-open", "sound"], suspects)
    assert left == ["element-2-open", "element-3-open", "blocked-vent", "element-1-grounded"]
    whole = read(machine, ("element-2-open",), "T2 T0", "T1 T0", "T3 T0", "T0 case", "T1 case", "H3 H4", "H7 H8")
    assert whole.left("element-2-open", ["element-2-open"], ["element-1-open", "sound"], suspects) == [
        "element-2-open",
        "blocked-vent",
    ]


def test_a_fault_that_nothing_shows_is_not_shown() -> None:
    found = read(Machine(), ("high-limit-open",), "T1 T0")
    assert "sound" in found.left("high-limit-open", ["high-limit-open"], ["sound"], [])
    assert read(Machine(), ("high-limit-open",), "H7 H8").left(
        "high-limit-open", ["high-limit-open"], ["sound"], []
    ) == ["high-limit-open"]


def test_two_faults_are_two() -> None:
    actual = ["element-1-open", "element-3-open"]
    one = read(Machine(), tuple(actual), "T1 T0", "T2 T0")
    assert "element-3-open" in one.left("element-1-open", actual, [], actual)
    both = read(Machine(), tuple(actual), "T1 T0", "T2 T0", "T3 T0")
    assert both.left("element-1-open", actual, [], actual) == ["element-1-open"]


def test_a_range_set_by_hand_and_leads_stored_are_read_as_such() -> None:
    bench = Bench(Machine())
    bench.do("unplug")
    bench.do("null_leads")
    bench.measure("ohms", "plug-G", "case", 6000.0)
    (seen,) = seen_on(bench.trail)
    assert (seen.full_scale, seen.nulled) == (6000.0, True)
