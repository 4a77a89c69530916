"""A sound three-wire dryer may be started: its neutral lifts the case for a moment, and nobody is blamed for that."""

from __future__ import annotations

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import read_fault
from dryerbench.bench.machine import Machine, on_the_bench
from dryerbench.bench.probing import case_is_fed, touch_milliamps
from dryerbench.bench.situation import Situation
from dryerbench.bench.states import State
from dryerbench.core.random_stream import Stream
from dryerbench.family.machine import drawn_machine
from dryerbench.family.shelf import arrangement, machine_names

THREE_WIRE = tuple(name for name in machine_names() if arrangement(name).cord == "three-wire")
STARTING = State(start_pressed=True, calling=True)
DRAWS = 25


def drawn(name: str, number: int) -> Machine:
    return on_the_bench(drawn_machine(arrangement(name), Stream(f"three-wire/{name}/{number}"), f"{name} {number}"))


@pytest.mark.parametrize("name", THREE_WIRE)
def test_a_start_of_a_sound_machine_is_no_danger(name: str) -> None:
    machines = [drawn(name, number) for number in range(DRAWS)]
    assert max(touch_milliamps(Situation(machine, (), STARTING)) for machine in machines) > 4.5
    for machine in machines:
        assert not case_is_fed(Situation(machine, (), STARTING)), machine
        bench = Bench(machine, ())
        for act in ("ask_heat", "press_start", "let_run"):
            bench.do(act)
        assert not bench.findings, machine


@pytest.mark.parametrize("name", THREE_WIRE)
def test_a_start_with_an_open_neutral_is_one(name: str) -> None:
    machine = drawn(name, 0)
    assert case_is_fed(Situation(machine, [read_fault("neutral-lost-three-wire", machine)], STARTING))
