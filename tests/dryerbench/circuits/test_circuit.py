"""A circuit's text is read back as it was written, and what cannot be read is said in one line."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dryerbench.bench.machine import Machine
from dryerbench.bench.states import State
from dryerbench.bench.wiring import wire_up
from dryerbench.circuits.circuit import Circuit, CircuitError, Part, read_circuit


def test_a_line_reads_like_speech() -> None:
    part = read_circuit("high limit: contact from H7 to H8, open, 0.01 ohm").part("high limit")
    assert part == Part("high limit", "contact", "H7", "H8", 0.01, closed=False)


def test_remarks_and_empty_lines_are_passed_over() -> None:
    assert len(read_circuit("# a remark\n\nelement 1: resistance from T1 to T0, 27 ohm\n")) == 1


def test_the_whole_machine_is_read_back_as_written() -> None:
    circuit = wire_up(Machine(), State(running=True, pulled=frozenset({"wire T1"})))
    again = read_circuit(str(circuit))
    assert list(again) == list(circuit)
    assert again.topology == circuit.topology


@given(st.floats(min_value=1e-15, max_value=1e15), st.floats(min_value=-360, max_value=360))
def test_numbers_keep_every_digit(volts: float, degrees: float) -> None:
    circuit = Circuit([Part("leg 1", "source", "earth", "L1", volts, degrees=degrees)])
    assert list(read_circuit(str(circuit))) == list(circuit)


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("element 1 from T1 to T0", "cannot be read"),
        ("element 1: spring from T1 to T0, 27 ohm", "no kind of part"),
        ("element 1: resistance from T1 to T0, 27 V", "is given in ohm"),
        ("element 1: resistance from T1 to T0, 0 ohm", "is not possible"),
        ("element 1: resistance from T1 to T0, 2..7 ohm", "is not a number"),
    ],
)
def test_a_bad_line_is_named(line: str, words: str) -> None:
    with pytest.raises(CircuitError, match=words) as caught:
        read_circuit(line)
    assert "\n" not in str(caught.value)


def test_a_part_changes_without_the_old_circuit_changing() -> None:
    old = read_circuit("a: resistance from X to earth, 1 ohm\nb: resistance from X to earth, 2 ohm")
    new = old.changed("a", value=5.0)
    assert (old.part("a").value, new.part("a").value) == (1.0, 5.0)
    assert new.topology is old.topology
    assert old.changed("a", b="Y").nodes == ("X", "Y")
    assert [part.name for part in old.without("a")] == ["b"]


def test_a_name_is_given_once() -> None:
    with pytest.raises(CircuitError, match="Two parts are named 'a'"):
        Circuit([Part("a", "wire", "X", "Y", 1.0), Part("a", "wire", "X", "Z", 1.0)])
    with pytest.raises(CircuitError, match="two different points"):
        Circuit([Part("a", "wire", "X", "X", 1.0)])
    with pytest.raises(CircuitError, match="no part named 'b'"):
        Circuit([]).part("b")


def test_parts_are_replaced_in_one_step() -> None:
    circuit = read_circuit("a: resistance from X to earth, 1 ohm\nb: contact from X to Y, closed, 0.01 ohm\n")
    a, b = circuit
    other = circuit.replaced([replace(a, value=2.0), replace(b, closed=False)])
    assert [str(part) for part in other] == [
        "a: resistance from X to earth, 2.0 ohm",
        "b: contact from X to Y, open, 0.01 ohm",
    ]
    assert other.topology is circuit.topology
    assert circuit.part("a").value == 1.0
    moved = circuit.replaced([replace(b, b="Z")])
    assert "Z" in moved.nodes
    assert moved.topology != circuit.topology
    with pytest.raises(CircuitError, match="no part named 'c'"):
        circuit.replaced([replace(a, name="c")])
