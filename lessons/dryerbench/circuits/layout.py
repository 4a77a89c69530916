"""Where every part of a family of circuits stands in the matrix of the nodal analysis; found once, used for all."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from dryerbench.circuits.circuit import Topology

_BRANCHES = frozenset({"source", "inductance", "contact", "wire"})


@dataclass(frozen=True)
class Stamps:
    """Where numbers go in the flat matrix: admittances summed into cells, and the rows of the branches.

    ``column`` and ``sign`` spread admittances over their four cells, sorted; ``start`` is where each ``cell`` begins.
    """

    parts: tuple[int, ...]
    branches: tuple[int, ...]
    sources: tuple[tuple[int, int], ...]
    column: NDArray[np.intp]
    sign: NDArray[np.float64]
    start: NDArray[np.intp]
    cell: NDArray[np.intp]
    own_cell: NDArray[np.intp]
    end_column: NDArray[np.intp]
    end_sign: NDArray[np.float64]
    row_cell: NDArray[np.intp]
    sum_cell: NDArray[np.intp]


@dataclass(frozen=True)
class Layout:
    """Where each part of a family of circuits stands in the matrix: row numbers, -1 for the reference."""

    nodes: tuple[str, ...]
    kinds: tuple[str, ...]
    ends: tuple[tuple[int, int], ...]
    branch: tuple[int, ...]

    @cached_property
    def size(self) -> int:
        """The number of unknowns: nodes, then branch amps."""
        return len(self.nodes) + sum(row >= 0 for row in self.branch)

    @cached_property
    def stamps(self) -> Stamps:
        """Where the numbers of these parts go in the flat matrix."""
        parts = tuple(place for place, row in enumerate(self.branch) if row < 0)
        branches = tuple(place for place, row in enumerate(self.branch) if row >= 0)
        sources = tuple((place, self.branch[place]) for place in branches if self.kinds[place] == "source")
        shared = _shared_cells([self.ends[place] for place in parts], self.size)
        rows = [self.branch[place] for place in branches]
        ends = [
            (column, node, sign)
            for column, place in enumerate(branches)
            for node, sign in zip(self.ends[place], (1.0, -1.0), strict=True)
            if node >= 0
        ]
        return Stamps(
            parts,
            branches,
            sources,
            *shared,
            own_cell=np.array([row * self.size + row for row in rows], dtype=np.intp),
            end_column=np.array([column for column, _, _ in ends], dtype=np.intp),
            end_sign=np.array([sign for _, _, sign in ends], dtype=float),
            row_cell=np.array([rows[column] * self.size + node for column, node, _ in ends], dtype=np.intp),
            sum_cell=np.array([node * self.size + rows[column] for column, node, _ in ends], dtype=np.intp),
        )

    @cached_property
    def weights(self) -> NDArray[np.float64]:
        """One over the parts at each node (n,): scales the current sums, so that no hub is a small node's pivot.

        The case, where every stray ends and a fault's amps flow, would else lend its rounding to a floating wire.
        """
        ends = [end for pair, row in zip(self.ends, self.branch, strict=True) if row < 0 for end in pair if end >= 0]
        return 1.0 / np.maximum(1, np.bincount(ends, minlength=len(self.nodes)))


def _shared_cells(
    ends: list[tuple[int, int]], size: int
) -> tuple[NDArray[np.intp], NDArray[np.float64], NDArray[np.intp], NDArray[np.intp]]:
    """Return column, sign, start and cell of ``Stamps`` for admittances between ``ends``."""
    spread = [
        (row * size + across, column, 1.0 if row == across else -1.0)
        for column, pair in enumerate(ends)
        for row in pair
        for across in pair
        if row >= 0 and across >= 0
    ]
    spread.sort()
    cells = np.array([cell for cell, _, _ in spread], dtype=np.intp)
    unique, start = np.unique(cells, return_index=True)
    return (
        np.array([column for _, column, _ in spread], dtype=np.intp),
        np.array([sign for _, _, sign in spread], dtype=float),
        start,
        unique,
    )


@lru_cache(maxsize=256)
def layout_of(key: Topology) -> Layout:
    """Return the layout of every circuit with this topology."""
    reference, parts = key.reference, key.joins
    nodes = dict.fromkeys(node for _, a, b in parts for node in (a, b))
    nodes.pop(reference, None)
    index = {node: row for row, node in enumerate(nodes)} | {reference: -1}
    branch, row = [], len(nodes)
    for kind, _, _ in parts:
        branch.append(row if kind in _BRANCHES else -1)
        row += kind in _BRANCHES
    return Layout(
        tuple(nodes),
        tuple(kind for kind, _, _ in parts),
        tuple((index[a], index[b]) for _, a, b in parts),
        tuple(branch),
    )
