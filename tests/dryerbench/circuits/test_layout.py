"""A layout belongs to what joins what, not to the values."""

from __future__ import annotations

from dryerbench.circuits.circuit import read_circuit
from dryerbench.circuits.layout import layout_of

TEXT = """
leg: source from earth to A, 120 V at 0 deg
r: resistance from A to B, 27 ohm
c: contact from B to earth, open, 0.01 ohm
"""


def test_rows_are_nodes_then_branches() -> None:
    layout = layout_of(read_circuit(TEXT).topology)
    assert layout.nodes == ("A", "B")
    assert layout.branch == (2, -1, 3)
    assert layout.size == 4


def test_every_position_of_a_switch_shares_the_layout() -> None:
    circuit = read_circuit(TEXT)
    closed = circuit.changed("c", closed=True).changed("r", value=9.0)
    assert layout_of(closed.topology) is layout_of(circuit.topology)


def test_an_admittance_lands_in_its_four_cells() -> None:
    layout = layout_of(read_circuit(TEXT).topology)
    assert list(layout.stamps.cell) == [0, 1, 4, 5]
    assert sorted(zip(layout.stamps.column, layout.stamps.sign, strict=True)) == [(0, -1), (0, -1), (0, 1), (0, 1)]


def test_a_node_with_many_parts_weighs_less() -> None:
    text = TEXT + "\nr2: resistance from A to earth, 1 ohm\nr3: resistance from A to earth, 2 ohm"
    weights = layout_of(read_circuit(text).topology).weights
    assert weights[0] == 1 / 3
    assert weights[1] == 1
