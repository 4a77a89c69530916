"""Small circuits solved exactly by ``lcapy`` (symbolic circuit analysis, LGPL) against the solver."""

from __future__ import annotations

import math
import warnings

import pytest

from dryerbench.circuits.circuit import read_circuit
from dryerbench.circuits.solver import solve

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    lcapy = pytest.importorskip("lcapy")

pytestmark = pytest.mark.filterwarnings("ignore")


def exact_ohms(netlist: str, a: str, b: str) -> float:
    return float(lcapy.Circuit(netlist).resistance(a, b).sympy)


def test_a_grounded_element_beside_two_sound_ones() -> None:
    theirs = exact_ohms("R1 1 9 9\nR2 9 0 18\nR3 1 0 27\nR4 1 0 27\nR5 9 8 1/100", "1", "8")
    ours = read_circuit(
        "near: resistance from T1 to touch, 9 ohm\nfar: resistance from touch to T0, 18 ohm\n"
        "two: resistance from T1 to T0, 27 ohm\nthree: resistance from T1 to T0, 27 ohm\n"
        "bridge: contact from touch to case, closed, 0.01 ohm\n",
        reference="T0",
    )
    assert solve(ours, 0.0)["T1", "case"].ohms.real == pytest.approx(theirs, rel=1e-12)


def test_an_unbalanced_bridge() -> None:
    theirs = exact_ohms("R1 1 2 27\nR2 2 0 13.5\nR3 1 3 9\nR4 3 0 18\nR5 2 3 40.5", "1", "0")
    ours = read_circuit(
        "a: resistance from A to B, 27 ohm\nb: resistance from B to earth, 13.5 ohm\n"
        "c: resistance from A to C, 9 ohm\nd: resistance from C to earth, 18 ohm\n"
        "e: resistance from B to C, 40.5 ohm\n"
    )
    assert solve(ours, 0.0)["A", "earth"].ohms.real == pytest.approx(theirs, rel=1e-12)


def test_volts_on_a_free_wire_by_phasors() -> None:
    circuit = lcapy.Circuit("V1 1 0 ac 120 0 {2*pi*60}\nC1 1 2 {4/10**10}\nC2 2 0 {12/10**10}\nR1 2 0 {10**7}")
    phasor = complex(next(iter(circuit[2].V.ac.values())).sympy.evalf())
    ours = solve(
        read_circuit(
            "leg 1: source from earth to L1, 120 V at 0 deg\nnear: capacitance from L1 to X, 4e-10 F\n"
            "far: capacitance from X to earth, 1.2e-9 F\nmeter: resistance from X to earth, 1e7 ohm\n"
        )
    )
    assert abs(ours.at("X")) == pytest.approx(abs(phasor), rel=1e-9)
    closed = 120 * 4e-10 / abs(1.6e-9 + 1 / (1j * math.tau * 60 * 1e7))
    assert abs(ours.at("X")) == pytest.approx(closed, rel=1e-12)
