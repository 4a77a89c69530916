"""Modified nodal analysis: volts at every node, amps in every part and the ohms behind every pair of probes.

The unknowns are the node volts and the amps of sources, wires, contacts and inductances. A wire of milliohms is
solved by its own Ohm's law, V_a - V_b - R·I = 0, rather than by a conductance: no digits of a floating node's
gigaohms are lost beside it. An open contact keeps its row and says I = 0, so that every position of every switch
has the same layout, and many circuits are factored in one call. Source of the method: Ho, Ruehli and Brennan,
The modified nodal approach to network analysis, IEEE Trans. Circuits Syst. 22 (1975), from memory.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TypeAlias

import numpy as np

from dryerbench.circuits.circuit import Circuit, CircuitError, Topology
from dryerbench.circuits.layout import Layout, layout_of
from dryerbench.circuits.recent import Recent
from dryerbench.circuits.values import Array, Values, admittance, values_of

MAINS_HERTZ = 60.0
_Key: TypeAlias = tuple[Topology, float, bool, bytes]
_SOLVED: Recent[_Key, Array] = Recent(16)
"""What was just solved: a bench asks for the same circuit again after an act that changed nothing in it."""


@dataclass(frozen=True)
class Pair:
    """What two probes face: the open-circuit volts (phasor) and the ohms behind them (complex)."""

    volts: complex
    ohms: complex


@dataclass(frozen=True)
class Solution:
    """One solved circuit: ``volts`` (n,) to the reference, ``impedance`` (n, n) in Ω, ``branch`` amps by part."""

    circuit: Circuit
    layout: Layout
    hertz: float
    volts: Array
    impedance: Array
    branch: Array

    @cached_property
    def _index(self) -> dict[str, int]:
        return {node: row for row, node in enumerate(self.layout.nodes)}

    @cached_property
    def _places(self) -> dict[str, int]:
        return {part.name: place for place, part in enumerate(self.circuit)}

    def index(self, node: str) -> int:
        """Return the row of ``node``, -1 for the reference.

        Raises
        ------
        CircuitError
            If the circuit has no such node.
        """
        if node == self.circuit.reference:
            return -1
        if node not in self._index:
            raise CircuitError(f"There is no point named '{node}' in this circuit.")
        return self._index[node]

    def at(self, node: str) -> complex:
        """Return the volts (phasor) of ``node`` against the reference."""
        row = self.index(node)
        return 0j if row < 0 else complex(self.volts[row])

    def __getitem__(self, points: tuple[str, str]) -> Pair:
        a, b = (self.index(point) for point in points)
        z = self.impedance
        ohms = complex(z[a, a] if a >= 0 else 0) + complex(z[b, b] if b >= 0 else 0)
        if a >= 0 and b >= 0:
            ohms -= complex(z[a, b]) + complex(z[b, a])
        return Pair(self.at(points[0]) - self.at(points[1]), ohms)

    def amps(self, name: str) -> complex:
        """Return the amps (phasor) through part ``name`` from its ``a`` to its ``b``."""
        part = self.circuit.part(name)
        row = self.layout.branch[self._places[name]]
        if row >= 0:
            return complex(self.branch[row - len(self.layout.nodes)])
        return (self.at(part.a) - self.at(part.b)) * admittance(part, self.hertz)

    def watts(self, name: str) -> complex:
        """Return the complex power in VA taken by part ``name``: V times the conjugate of I."""
        part = self.circuit.part(name)
        return (self.at(part.a) - self.at(part.b)) * self.amps(name).conjugate()

    def balance(self) -> tuple[complex, complex]:
        """Return the VA that the sources deliver and the VA that all other parts take."""
        delivered = -sum((self.watts(p.name) for p in self.circuit if p.kind == "source"), 0j)
        taken = sum((self.watts(p.name) for p in self.circuit if p.kind != "source"), 0j)
        return delivered, taken

    def all_pairs(self) -> tuple[Array, Array]:
        """Return open-circuit volts and ohms behind every pair, each (n, n), in the order of ``layout.nodes``."""
        return pair_volts(self.volts), pair_ohms(self.impedance)


def pair_volts(volts: Array) -> Array:
    """Return V_i - V_j for every pair: (…, n) to (…, n, n)."""
    return volts[..., :, None] - volts[..., None, :]


def pair_ohms(impedance: Array) -> Array:
    """Return the ohms behind every pair, Z_ii + Z_jj - Z_ij - Z_ji: (…, n, n) to (…, n, n)."""
    own = np.diagonal(impedance, axis1=-2, axis2=-1)
    ohms: Array = own[..., :, None] + own[..., None, :] - impedance - np.swapaxes(impedance, -1, -2)
    return ohms


def _assemble(layout: Layout, values: Values) -> tuple[Array, Array]:
    count, size, width, stamps = len(values.flow), layout.size, len(layout.nodes), layout.stamps
    matrix = np.zeros((count, size * size), dtype=values.flow.dtype)
    if len(stamps.parts):
        spread = values.flow[:, stamps.column] * stamps.sign
        matrix[:, stamps.cell] = np.add.reduceat(spread, stamps.start, axis=1)
    matrix[:, stamps.own_cell] = values.own
    matrix[:, stamps.row_cell] = values.joined[:, stamps.end_column] * stamps.end_sign
    matrix[:, stamps.sum_cell] = stamps.end_sign
    square = matrix.reshape(count, size, size)
    right = np.zeros((count, size, width + 1), dtype=values.flow.dtype)
    right[:, np.arange(width), np.arange(width)] = 1.0
    if values.sources.shape[1]:
        right[:, [row for _, row in stamps.sources], width] = values.sources
    weight = layout.weights
    square[:, :width] *= weight[:, None]
    right[:, :width] *= weight[:, None]
    return square, right


def solve_all(circuits: Sequence[Circuit], hertz: float = MAINS_HERTZ, *, pairs: bool = True) -> list[Solution]:
    """Return the solutions of many circuits: those of one layout are factored together, equal ones once.

    ``hertz`` 0 means direct current with every source dead, as an ohmmeter needs it: a capacitance is then open
    and an inductance a plain joint. Without ``pairs`` volts and amps alone are found, several times as fast, and no
    ohms behind two points.

    Raises
    ------
    CircuitError
        If a circuit has no single solution; the text says which nodes float or where sources are shorted.
    """
    families: dict[Topology, list[int]] = defaultdict(list)
    for place, circuit in enumerate(circuits):
        families[circuit.topology].append(place)
    solved: dict[int, Solution] = {}
    for key, places in families.items():
        layout = layout_of(key)
        members = [circuits[place] for place in places]
        values = values_of(layout, members, hertz)
        keys = [(key, hertz, pairs, numbers) for numbers in values.marks()]
        answers = {one: found for one in dict.fromkeys(keys) if (found := _SOLVED.get(one)) is not None}
        fresh = {one: row for row, one in reversed(list(enumerate(keys))) if one not in answers}
        if fresh:
            rows = sorted(fresh.values())
            matrix, right = _assemble(layout, values.chosen(rows))
            right = right if pairs else right[..., len(layout.nodes) :]
            for row, answer in zip(rows, _factor(matrix, right, [members[row] for row in rows], hertz), strict=True):
                answer.setflags(write=False)  # several solutions hold it
                answers[keys[row]] = answer
                if len(rows) == 1:  # a row of many would keep the whole table in memory
                    _SOLVED.put(keys[row], answer)
        width = len(layout.nodes)
        for circuit, place, one in zip(members, places, keys, strict=True):
            x = answers[one]
            solved[place] = Solution(circuit, layout, hertz, x[:width, -1], x[:width, :-1], x[width:, -1])
    return [solved[place] for place in range(len(circuits))]


def _factor(matrix: Array, right: Array, circuits: Sequence[Circuit], hertz: float) -> Array:
    try:
        answer: Array = np.linalg.solve(matrix, right)
    except np.linalg.LinAlgError:
        answer = np.full_like(right, np.nan)
    if not np.isfinite(answer).all():
        for circuit in circuits:
            explain(circuit, hertz)
        raise CircuitError("This circuit has sources joined by parts of no resistance: give one of them ohms.")
    return answer


def solve(circuit: Circuit, hertz: float = MAINS_HERTZ) -> Solution:
    """Return the solution of one circuit at ``hertz`` Hz (0: direct current, sources dead).

    Raises
    ------
    CircuitError
        If it has no single solution.
    """
    return solve_all([circuit], hertz)[0]


def explain(circuit: Circuit, hertz: float) -> None:
    """Say why a circuit has no single solution, if the cause is a node without any path to the reference.

    Raises
    ------
    CircuitError
        Naming the nodes that float.
    """
    joined: dict[str, set[str]] = defaultdict(set)
    for part in circuit:
        if part.closed and (hertz or part.kind != "capacitance"):
            joined[part.a].add(part.b)
            joined[part.b].add(part.a)
    reached, edge = {circuit.reference}, [circuit.reference]
    while edge:
        fresh = joined[edge.pop()] - reached
        reached |= fresh
        edge.extend(fresh)
    floating = [node for node in circuit.nodes if node not in reached]
    if floating:
        raise CircuitError(
            f"Nothing ties {', '.join(floating)} to {circuit.reference}, so the volts there can be anything. "
            "Add the leakage or the capacitance that a real wire has."
        )
