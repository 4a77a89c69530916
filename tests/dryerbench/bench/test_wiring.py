"""The wiring: copper from the table, the heater's line in order, cords of both kinds, ghost volts by physics."""

from __future__ import annotations

from dataclasses import replace

import pytest

from dryerbench.bench.machine import Machine
from dryerbench.bench.states import State, named_state
from dryerbench.bench.wiring import points, pullable, thermistor_ohms, wire_up
from dryerbench.circuits.solver import solve
from dryerbench.core.tables import table
from dryerbench.electricity.conductors import hot_factor, run_ohms


def test_every_test_point_is_a_node_of_a_four_wire_machine() -> None:
    assert set(points()) <= set(wire_up(Machine(), State()).nodes)


def test_every_wire_to_pull_is_a_part() -> None:
    circuit = wire_up(Machine(), State(pulled=frozenset(pullable())))
    assert all(circuit.part(name).kind == "wire" and not circuit.part(name).closed for name in pullable())


def test_copper_comes_from_the_table() -> None:
    circuit = wire_up(Machine(run_feet=50.0, run_awg=12), State())
    both_ways = circuit.part("run 1").value + circuit.part("run 2").value
    assert both_ways == pytest.approx(run_ohms(50.0, 12), rel=1e-12)
    assert table("copper-conductors").row(awg=12)["ohms_per_kft"] * 0.1 == pytest.approx(both_ways)


def test_the_heater_line_meets_its_points_in_order() -> None:
    solution = solve(wire_up(Machine(), named_state("heating")))
    line = ["L1", "H1", "H2", "H3", "H4", "H5", "H6", "H7", "H8", "T1", "T0", "M1", "M2", "L2"]
    real = [solution.at(point).real for point in line]
    assert real == sorted(real, reverse=True)


def test_a_hot_element_has_the_ohms_of_the_alloys_table() -> None:
    circuit = wire_up(Machine(), replace(State(), element_celsius=500.0))
    assert circuit.part("element 1").value == pytest.approx(27 * hot_factor(500) / hot_factor(25))


def test_a_three_wire_cord_has_a_strap_and_no_ground() -> None:
    circuit = wire_up(Machine(cord="three-wire"), State())
    assert circuit.part("frame strap").closed
    assert "ground wire" not in circuit
    assert "plug-G" not in circuit.nodes
    assert not wire_up(Machine(), State()).part("frame strap").closed


def test_heat_needs_the_motor_and_the_control() -> None:
    for name, heats in (("heating", True), ("tumbling", False), ("standing", False), ("cycled-off", False)):
        solution = solve(wire_up(Machine(), named_state(name)))
        assert (abs(solution.amps("element 1")) > 5.0) is heats


def test_a_wire_that_hangs_free_shows_phantom_volts_that_collapse_under_3_kilohms() -> None:
    pair = solve(wire_up(Machine(), named_state("standing")))["T1", "L2"]
    assert abs(pair.volts) > 80
    assert abs(pair.volts * 3000 / (3000 + pair.ohms)) < 240
    free = solve(wire_up(Machine(), named_state("locked-out")))["outlet-1", "outlet-N"]
    assert abs(free.volts * 3000 / (3000 + free.ohms)) < 0.01


def test_insulation_of_a_sound_machine_is_over_100_megohms() -> None:
    dead = solve(wire_up(Machine(), named_state("unplugged-calling")), 0.0)
    assert dead["L1", "case"].ohms.real > 1e8


def test_a_thermistor_has_its_ohms_at_25_degrees_and_fewer_when_warm() -> None:
    assert thermistor_ohms(Machine(), 25.0) == pytest.approx(10_000.0)
    assert thermistor_ohms(Machine(), 60.0) < thermistor_ohms(Machine(), 50.0) < 5000
