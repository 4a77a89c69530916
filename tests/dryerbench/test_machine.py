"""A machine's volts between the legs, by its supply."""

from __future__ import annotations

import pytest

from dryerbench.machine import Machine
from dryerbench.solver import solve
from dryerbench.states import State
from dryerbench.supply import leg_to_leg
from dryerbench.wiring import wire_up


@pytest.mark.parametrize(("supply", "apart"), [("split", 180.0), ("wye", 120.0)])
def test_leg_to_leg_agrees_with_the_phasors_of_its_circuit(supply: str, apart: float) -> None:
    machine = Machine(supply=supply)
    assert machine.leg_to_leg == pytest.approx(leg_to_leg(120.0, apart))
    solution = solve(wire_up(machine, State()))
    assert abs(solution["service-1", "service-2"].volts) == pytest.approx(machine.leg_to_leg, rel=1e-12)
