"""The wires of the motor come off on the lessons' dryer: each parts what it joins, and reads alone what hangs on it."""

from __future__ import annotations

import pytest

from dryerbench.bench.access import pullable
from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import Machine
from dryerbench.bench.worksite import BenchError

OPEN = ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off")
MOTOR = ("wire L1", "wire D", "wire W1", "wire W2", "wire N")


def opened(*faults: str, cord: str = "four-wire") -> Bench:
    bench = Bench(Machine(cord=cord), faults)
    for act in OPEN:
        bench.do(act)
    bench.do("test_dead", where="block")
    bench.do("prove_meter")
    return bench


def test_every_wire_of_the_motor_comes_off_and_goes_back() -> None:
    bench = opened()
    before = bench.ohms("W1", "W0").value
    for wire in MOTOR:
        bench.do("pull_wire", wire=wire)
    assert set(MOTOR) == bench.state.pulled
    for wire in MOTOR:
        bench.do("put_back_wire", wire=wire)
    assert bench.ohms("W1", "W0").value == pytest.approx(before, abs=0.15)
    assert not [one for one in bench.findings if one.gate]


def test_a_winding_is_read_alone() -> None:
    """With its start winding's wire on, the two windings are read side by side; with an open run winding, the other."""
    bench = opened("run-winding-open")
    assert bench.ohms("W1", "W0").value is not None
    bench.do("pull_wire", wire="wire W2")
    assert bench.ohms("W1", "W0").shown == "OL"
    sound = opened()
    both = sound.ohms("W1", "W0").value
    sound.do("pull_wire", wire="wire W2")
    alone = sound.ohms("W1", "W0").value
    assert both is not None
    assert alone is not None
    assert alone > both + 0.5


@pytest.mark.parametrize(
    ("wire", "pair", "on"), [("wire L1", "L1 D", True), ("wire D", "L1 D", True), ("wire N", "W0 N", True)]
)
def test_a_wire_parts_what_it_joins(wire: str, pair: str, on: bool) -> None:
    bench = opened()
    assert (bench.ohms(*pair.split()).shown != "OL") is on
    bench.do("pull_wire", wire=wire)
    apart = bench.ohms(*pair.split()).value
    assert (apart is None or apart > 1e6) is (wire != "wire D")  # the door switch is between L1 and D, not its wire


@pytest.mark.parametrize("wire", MOTOR)
def test_a_motor_with_a_wire_off_does_not_turn(wire: str) -> None:
    bench = opened()
    bench.do("pull_wire", wire=wire)
    bench.do("cover_on")
    bench.do("plug_in")
    bench.do("press_start")
    assert not bench.state.running


def test_a_three_wire_cord_has_no_bond_wire_to_pull() -> None:
    assert "ground wire" in pullable(Machine())
    assert "ground wire" not in pullable(Machine(cord="three-wire"))
    with pytest.raises(BenchError, match="There is no wire 'ground wire' to pull"):
        opened(cord="three-wire").do("pull_wire", wire="ground wire")
