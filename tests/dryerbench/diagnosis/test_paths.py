"""Paths: 500 random faults found by following the advice; no power before the path to the case is tested."""

from __future__ import annotations

import numpy as np
import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import Fault, catalogue, fault_names, read_fault
from dryerbench.bench.machine import Machine
from dryerbench.core.random_stream import Stream
from dryerbench.diagnosis.ambiguity_groups import same_to_the_meter
from dryerbench.diagnosis.candidates import SOUND
from dryerbench.diagnosis.evidence import SURE, Evidence, EvidenceError
from dryerbench.diagnosis.paths import follow, from_trail


def test_no_power_is_advised_before_the_path_to_the_case_is_tested() -> None:
    for name in ("element-3-grounded", "leakage-to-case", "cut-off-blown", "blocked-vent"):
        tested = False
        for step in follow(Machine(), [read_fault(name)]):
            tested = tested or {"T0", "case"} == set(step.act.places)
            assert tested or not step.act.powered
    grounded = follow(Machine(), [read_fault("element-3-grounded")])
    assert not any(step.act.powered for step in grounded)


def test_without_a_qualified_person_no_live_reading_is_advised() -> None:
    steps = follow(Machine(), [read_fault("cycling-open")], qualified=False)
    assert steps[-1].odds["cycling-open"] > SURE
    assert not any(step.act.live for step in steps)


def test_a_benchs_trail_is_evidence() -> None:
    bench = Bench(faults=["element-2-open"])
    for act in ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off"):
        bench.do(act)
    for number in "123":
        bench.do("pull_wire", wire=f"wire T{number}")
    for number in "123":
        bench.ohms(f"T{number}", "T0")
    assert from_trail(Machine(), bench.trail).singled_out() == ["element-2-open"]
    dead = Bench(faults=["open-neutral"])
    dead.do("gear_on")
    dead.do("press_start")
    dead.do("cover_off")
    dead.clamp("cord 1")
    assert from_trail(Machine(), dead.trail).odds()["open-neutral"] > Evidence().odds()["open-neutral"]


def test_a_spoiled_reading_is_no_evidence() -> None:
    bench = Bench()
    bench.do("gear_on")
    bench.do("cover_off")
    spoiled = bench.ohms("L1", "L2")
    with pytest.raises(EvidenceError, match="does not count"):
        Evidence().observe(bench.state, "ohms", ("L1", "L2"), spoiled)
    assert from_trail(Machine(), bench.trail).odds() == Evidence().odds()


def random_fault(seed: int) -> tuple[Machine, Fault]:
    stream = Stream(f"test/evidence/{seed}")
    row = catalogue(stream.choose(fault_names()))
    low, high = row["strength_low"], row["strength_high"]
    share = stream.integer(0, 1000) / 1000
    ohms = [stream.step("26", "28", "0.1") for _ in range(3)]
    machine = Machine(
        name=f"random {seed}",
        cord="four-wire" if row["cord"] == "any" else row["cord"],
        element_ohms=(ohms[0], ohms[1], ohms[2]),
        leg_volts=stream.step("118", "122", "0.5"),
    )
    return machine, Fault(row["fault"], None if low is None else low + (high - low) * share)


def rivals(name: str) -> list[tuple[Fault, ...]]:
    """The named fault at 41 strengths over its range, or nothing for a sound machine."""
    if name == SOUND:
        return [()]
    low, high = catalogue(name)["strength_low"], catalogue(name)["strength_high"]
    return [(Fault(name),)] if low is None else [(Fault(name, x),) for x in np.linspace(low, high, 41).tolist()]


def test_following_the_advice_names_the_right_fault_for_500_random_ones() -> None:
    wrong, readings = [], 0
    for seed in range(500):
        machine, fault = random_fault(seed)
        steps = follow(machine, [fault])
        readings += len(steps)
        named = next(iter(steps[-1].odds))
        if named != fault.name:
            wrong.append((machine, fault, named))
    for machine, fault, named in wrong:
        assert any(same_to_the_meter(machine, (fault,), rival) for rival in rivals(named)), (str(fault), named)
    assert len(wrong) < 25
    assert readings / 500 < 15
