"""The numbers of circuits of one layout, as arrays for the solver; a circuit is read by what differs from the last."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from dryerbench.circuits.circuit import Circuit, Part, Topology
from dryerbench.circuits.layout import Layout
from dryerbench.circuits.recent import Recent

Array: TypeAlias = NDArray[np.inexact]  # complex at mains frequency, real for direct current
_OPEN_ROW = 1e3  # times I = 0: large, so that elimination takes this row and mixes no node's amps with another's


def admittance(part: Part, hertz: float) -> complex:
    """Return the siemens of a resistance, or of a capacitance at ``hertz`` Hz."""
    if part.kind == "resistance":
        return 1.0 / part.value
    return 1j * math.tau * hertz * part.value


def _phasor(part: Part) -> complex:
    """Return the phasor of a source; its ``b`` is the positive end."""
    return cmath.rect(part.value, math.radians(part.degrees))


def _own_term(part: Part, hertz: float) -> complex:
    """Return what multiplies a branch's own amps in its row."""
    if part.kind == "source":
        return 0.0
    if part.kind == "inductance":
        return -1j * math.tau * hertz * part.value
    return -part.value if part.closed else _OPEN_ROW


@dataclass(frozen=True)
class Values:
    """The numbers of a family of circuits: admittances, branches' own terms, joined or not, sources' phasors.

    Each has a row a circuit.
    """

    flow: Array
    own: Array
    joined: Array
    sources: Array

    def chosen(self, rows: list[int]) -> Values:
        """Return those of the circuits ``rows``."""
        return Values(self.flow[rows], self.own[rows], self.joined[rows], self.sources[rows])

    def marks(self) -> list[bytes]:
        """Return for each circuit what is the same for equal circuits of one layout, and for no others."""
        table = (self.flow, self.own, self.joined, self.sources)
        return [b"".join(values[row].tobytes() for values in table) for row in range(len(self.flow))]


@dataclass(frozen=True)
class _Row:
    """The numbers of one circuit, as lists: to be copied for the next one, and changed where its parts differ."""

    flow: list[complex]
    own: list[complex]
    joined: list[float]
    sources: list[complex]

    def copied(self) -> _Row:
        return _Row(self.flow.copy(), self.own.copy(), self.joined.copy(), self.sources.copy())


class _Reader:
    """Reads circuits of one layout; parts that a circuit read before holds too are not read again."""

    def __init__(self, layout: Layout, hertz: float) -> None:
        stamps, self._hertz = layout.stamps, hertz
        self._flow = {place: column for column, place in enumerate(stamps.parts)}
        self._branch = {place: column for column, place in enumerate(stamps.branches)}
        self._source = {place: column for column, (place, _) in enumerate(stamps.sources)}
        row = _Row(
            [0j] * len(stamps.parts),
            [0j] * len(stamps.branches),
            [0.0] * len(stamps.branches),
            [0j] * len(self._source),
        )
        self._last: tuple[Sequence[Part | None], _Row] = [None] * len(layout.kinds), row

    def _read(self, row: _Row, place: int, part: Part) -> None:
        if place in self._flow:
            row.flow[self._flow[place]] = admittance(part, self._hertz)
            return
        row.own[self._branch[place]] = _own_term(part, self._hertz)
        row.joined[self._branch[place]] = float(part.closed)
        if place in self._source:
            row.sources[self._source[place]] = -_phasor(part)

    def row(self, parts: Sequence[Part]) -> _Row:
        """Return the numbers of one circuit, not to be changed."""
        before, numbers = self._last  # one word, so that another thread's reading may come between
        row = numbers.copied()
        for place, (part, old) in enumerate(zip(parts, before, strict=True)):
            if part is not old:
                self._read(row, place, part)
        self._last = parts, row
        return row


_READERS: Recent[tuple[Topology, float], _Reader] = Recent(64)


def values_of(layout: Layout, circuits: Sequence[Circuit], hertz: float) -> Values:
    """Return the numbers of ``circuits``, which all have this ``layout``, at ``hertz`` Hz."""
    kind = np.complex128 if hertz else np.float64
    key = circuits[0].topology, hertz
    reader = _READERS.get(key)
    if reader is None:
        reader = _Reader(layout, hertz)
        _READERS.put(key, reader)
    rows = [reader.row(list(circuit)) for circuit in circuits]
    shape = (len(circuits), -1)

    def numbers(lists: list[list[complex]]) -> Array:
        plain = np.array(lists, dtype=np.complex128).reshape(shape)
        return plain if hertz else np.ascontiguousarray(plain.real)

    sources = np.array([row.sources for row in rows], dtype=np.complex128).reshape(len(circuits), -1)
    return Values(
        numbers([row.flow for row in rows]),
        numbers([row.own for row in rows]),
        np.array([row.joined for row in rows], dtype=float).reshape(shape),
        sources if hertz else np.zeros((len(circuits), 0), dtype=kind),
    )
