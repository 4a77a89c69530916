"""The solver against closed forms, and against the laws that hold for every linear circuit."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dryerbench.bench.faults import Fault, catalogue, fault_names, faulty_circuit
from dryerbench.bench.machine import Machine
from dryerbench.bench.states import named_state, state_names
from dryerbench.circuits.circuit import Circuit, CircuitError, Part, read_circuit
from dryerbench.circuits.solver import pair_ohms, pair_volts, solve, solve_all
from dryerbench.core.random_stream import Stream

TWO_LEGS = """
leg 1: source from earth to L1, 120 V at 0 deg
leg 2: source from earth to L2, 120 V at 180 deg
"""


def test_three_elements_in_parallel_on_two_legs() -> None:
    lines = "".join(f"element {n}: resistance from L1 to L2, 27 ohm\n" for n in (1, 2, 3))
    solution = solve(read_circuit(TWO_LEGS + lines))
    assert abs(solution.amps("element 1")) == pytest.approx(80 / 9, rel=1e-12)
    assert abs(solution.amps("leg 1")) == pytest.approx(80 / 3, rel=1e-12)
    assert solution.watts("element 2").real == pytest.approx(19200 / 9, rel=1e-12)
    assert sum(solution.watts(f"element {n}").real for n in (1, 2, 3)) == pytest.approx(6400, rel=1e-12)


def test_a_leg_that_sags_through_its_own_ohms() -> None:
    text = TWO_LEGS + "feed: wire from L1 to X, 1.5 ohm\nelement 1: resistance from X to L2, 27 ohm\n"
    solution = solve(read_circuit(text))
    assert abs(solution["X", "L2"].volts) == pytest.approx(240 * 27 / 28.5, rel=1e-12)
    assert solution["X", "L2"].ohms.real == pytest.approx(27 * 1.5 / 28.5, rel=1e-12)


def test_an_open_neutral_shares_240_volts_as_the_loads_do() -> None:
    text = TWO_LEGS + "small: resistance from L1 to N, 48 ohm\nlarge: resistance from N to L2, 12 ohm\n"
    solution = solve(read_circuit(text))
    assert abs(solution.at("L1") - solution.at("N")) == pytest.approx(240 * 48 / 60, rel=1e-12)
    assert abs(solution.at("N")) == pytest.approx(72, rel=1e-12)


def test_a_free_wire_takes_phantom_volts_by_capacitance() -> None:
    text = TWO_LEGS + "near: capacitance from L1 to X, 4e-10 F\nfar: capacitance from X to earth, 1.2e-9 F\n"
    pair = solve(read_circuit(text))["X", "earth"]
    assert abs(pair.volts) == pytest.approx(30.0, rel=1e-12)
    behind = 1 / (1j * math.tau * 60 * 1.6e-9)
    assert pair.ohms == pytest.approx(behind, rel=1e-12)


def test_an_inductance_turns_the_current_back() -> None:
    text = "leg 1: source from earth to A, 120 V at 0 deg\ncoil: inductance from A to B, 0.05 H\n"
    solution = solve(read_circuit(text + "ohms: resistance from B to earth, 10 ohm\n"))
    expected = 120 / (10 + 1j * math.tau * 60 * 0.05)
    assert solution.amps("coil") == pytest.approx(expected, rel=1e-12)
    assert solution.watts("coil").imag == pytest.approx(abs(expected) ** 2 * math.tau * 60 * 0.05, rel=1e-12)


def test_direct_current_kills_sources_and_opens_capacitances() -> None:
    text = TWO_LEGS + "a: resistance from L1 to X, 4 ohm\nb: resistance from X to L2, 12 ohm\n"
    text += "c: capacitance from X to earth, 1e-6 F\n"
    dead = solve(read_circuit(text), 0.0)
    assert dead["X", "earth"].ohms == pytest.approx(3.0, rel=1e-12)
    assert dead["X", "earth"].volts == 0
    assert dead.volts.dtype == np.float64


def test_all_pairs_are_the_pairs_one_by_one() -> None:
    solution = solve(faulty_circuit(Machine(), named_state("heating")))
    volts, ohms = solution.all_pairs()
    nodes = solution.layout.nodes
    for i, j in ((0, 5), (17, 3), (30, 31)):
        pair = solution[nodes[i], nodes[j]]
        assert volts[i, j] == pytest.approx(pair.volts)
        assert ohms[i, j] == pytest.approx(pair.ohms)
    assert pair_volts(solution.volts).shape == pair_ohms(solution.impedance).shape


def test_equal_circuits_in_a_batch_have_equal_answers_and_unequal_ones_their_own() -> None:
    state = named_state("heating")
    one, two = faulty_circuit(Machine(), state), faulty_circuit(Machine(leg_volts=115.0), state)
    first, other, again = solve_all([one, two, one])
    assert np.array_equal(first.volts, again.volts)
    assert np.allclose(other.volts, first.volts * 115 / 120, rtol=1e-9)
    assert np.array_equal(other.volts, solve(two).volts)


def test_a_point_that_is_not_there_is_named() -> None:
    with pytest.raises(CircuitError, match="no point named 'T9'"):
        solve(faulty_circuit(Machine(), named_state("heating")))["T9", "case"]


def test_a_floating_node_is_explained() -> None:
    with pytest.raises(CircuitError, match="Nothing ties X, Y to earth"):
        solve(read_circuit(TWO_LEGS + "a: resistance from X to Y, 4 ohm\n"))


def test_shorted_sources_are_explained() -> None:
    with pytest.raises(CircuitError, match="joined by parts of no resistance"):
        solve(read_circuit(TWO_LEGS + "bar: wire from L1 to L2, 0 ohm\n"))


def _random_case(seed: int) -> tuple[Machine, str, list[Fault]]:
    stream = Stream(f"test/solver/{seed}")
    cord = stream.choose(("four-wire", "three-wire"))
    machine = Machine(
        element_ohms=(stream.step("20", "35", "0.1"), stream.step("20", "35", "0.1"), stream.step("20", "35", "0.1")),
        leg_volts=stream.step("108", "127", "0.5"),
        supply=stream.choose(("split", "wye")),
        cord=cord,
        run_feet=stream.step("10", "150", "5"),
        run_awg=stream.choose((8, 10, 12)),
        house_watts=(stream.step("50", "3000", "10"), stream.step("50", "3000", "10")),
    )
    names = stream.shuffle([name for name in fault_names() if catalogue(name)["cord"] in ("any", cord)])
    faults = []
    for name in names[: stream.integer(0, 3)]:
        low, high = catalogue(name)["strength_low"], catalogue(name)["strength_high"]
        share = stream.integer(0, 100) / 100
        faults.append(Fault(name, None if low is None else low + (high - low) * share))
    return machine, stream.choose(state_names()), faults


def test_power_delivered_is_power_taken_for_1000_random_machines() -> None:
    cases = [_random_case(seed) for seed in range(1000)]
    solutions = solve_all([faulty_circuit(machine, named_state(state), faults) for machine, state, faults in cases])
    worst = 0.0
    for solution in solutions:
        delivered, taken = solution.balance()
        worst = max(worst, abs(delivered - taken) / abs(delivered))
    assert worst < 1e-9


@settings(max_examples=40, deadline=None)
@given(st.integers(min_value=0, max_value=10**6))
def test_reciprocity_and_superposition(seed: int) -> None:
    machine, state, faults = _random_case(seed)
    circuit = faulty_circuit(machine, named_state(state), faults)
    both = solve(circuit)
    scale = np.abs(both.impedance).max()
    assert np.abs(both.impedance - both.impedance.T).max() < 1e-8 * scale
    one, two = solve_all([circuit.changed("leg 2", value=0.0), circuit.changed("leg 1", value=0.0)])
    assert np.allclose(both.volts, one.volts + two.volts, rtol=1e-9, atol=1e-7)  # floating wires hang on gigaohms


@given(st.lists(st.floats(min_value=1.0, max_value=1e4), min_size=2, max_size=12))
def test_a_chain_of_ohms_adds_up(ohms: list[float]) -> None:
    parts = [Part(f"r{k}", "resistance", f"n{k}", f"n{k + 1}", value) for k, value in enumerate(ohms)]
    solution = solve(Circuit(parts, reference="n0"), 0.0)
    assert solution["n0", f"n{len(ohms)}"].ohms.real == pytest.approx(sum(ohms), rel=1e-9)


def test_the_phasor_of_a_source_is_its_volts_and_degrees() -> None:
    solution = solve(
        read_circuit("leg 2: source from earth to L2, 120 V at -120 deg\nr: resistance from L2 to earth, 1 ohm")
    )
    assert solution.at("L2") == pytest.approx(cmath.rect(120, -math.tau / 3), rel=1e-12)
