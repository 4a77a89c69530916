"""A machine's volts between the legs, by its supply."""

from __future__ import annotations

import pytest

from dryerbench.bench.machine import Machine, drawn_machine
from dryerbench.bench.states import State
from dryerbench.bench.wiring import wire_up
from dryerbench.circuits.solver import solve
from dryerbench.core.random_stream import stream_for
from dryerbench.electricity.supply import leg_to_leg


@pytest.mark.parametrize(("supply", "apart"), [("split", 180.0), ("wye", 120.0)])
def test_leg_to_leg_agrees_with_the_phasors_of_its_circuit(supply: str, apart: float) -> None:
    machine = Machine(supply=supply)
    assert machine.leg_to_leg == pytest.approx(leg_to_leg(120.0, apart))
    solution = solve(wire_up(machine, State()))
    assert abs(solution["service-1", "service-2"].volts) == pytest.approx(machine.leg_to_leg, rel=1e-12)


def test_a_drawn_machine_is_the_same_for_the_same_id() -> None:
    one = drawn_machine(stream_for("anna-example", "bench"), "anna-example")
    assert one == drawn_machine(stream_for("anna-example", "bench"), "anna-example")
    assert one != drawn_machine(stream_for("ben-example", "bench"), "anna-example")
    assert all(26 <= ohms <= 28 for ohms in one.element_ohms)
