"""Faults that no reading of the menu tells apart: computed from the circuit, not assumed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from dryerbench.bench.faults import Fault
from dryerbench.bench.machine import Machine
from dryerbench.bench.states import named_state
from dryerbench.diagnosis.candidates import LOOK, Numbers, candidates, menu, predicted, solve_settled
from dryerbench.diagnosis.evidence import cases, menu_predictions

_APART = 3.0  # standard deviations


@dataclass(frozen=True, slots=True)
class Alike:
    """Two faults that no reading of the menu tells apart, with the strengths of each at which that happens."""

    one: str
    one_strengths: tuple[float | None, float | None]
    other: str
    other_strengths: tuple[float | None, float | None]

    def __str__(self) -> str:
        return f"{_worded(self.one, self.one_strengths)} and {_worded(self.other, self.other_strengths)}"


def _worded(name: str, strengths: tuple[float | None, float | None]) -> str:
    return name if strengths[0] is None else f"{name} ({strengths[0]:g} to {strengths[1]:g})"


def alike(machine: Machine | None = None) -> list[Alike]:
    """Return every two faults that no reading of the menu tells apart at some strengths of each.

    Every strength at the edge of a bin is tried: two are alike where all their predictions lie within three
    standard deviations of each other.
    """
    book = machine or Machine()
    points, values, spreads = _menu_points(book)
    gap = np.abs(values[:, :, None] - values[:, None, :])
    apart = (gap / np.maximum(spreads[:, :, None], spreads[:, None, :])).max(axis=0)
    pairs: dict[tuple[str, str], list[tuple[float | None, float | None]]] = {}
    for i, j in zip(*np.nonzero(apart < _APART), strict=True):
        (one, strength), (other, other_strength) = points[i], points[j]
        if one < other:
            pairs.setdefault((one, other), []).append((strength, other_strength))
    return [
        Alike(one, _hull(first for first, _ in found), other, _hull(second for _, second in found))
        for (one, other), found in sorted(pairs.items())
    ]


def _menu_points(machine: Machine) -> tuple[list[tuple[str, float | None]], Numbers, Numbers]:
    """Return every fault at every edge of its bins, with predictions and spreads, each (acts, points)."""
    ends = [(place, end) for place in range(len(candidates(machine.cord))) for end in (0, 1)]
    points = [(one.name, one.ends[end]) for one in candidates(machine.cord) for end in (0, 1)]
    kept = [points.index(point) for point in dict.fromkeys(points)]
    rows = []
    for act in (one for one in menu_predictions(machine)[0] if one.mode != LOOK):
        solved = cases(machine, named_state(act.state))
        row = [predicted(solved[ends[k][0]][ends[k][1]], act.mode, act.places, 0.0) for k in kept]
        rows.append(row)
    table = np.array(rows)
    return [points[k] for k in kept], table[:, :, 0], table[:, :, 1]


def _hull(strengths: Iterable[float | None]) -> tuple[float | None, float | None]:
    known = [strength for strength in strengths if strength is not None]
    return (min(known), max(known)) if known else (None, None)


def same_to_the_meter(machine: Machine, one: tuple[Fault, ...], other: tuple[Fault, ...]) -> bool:
    """Return whether every reading of the menu is the same for both, within three standard deviations."""
    for state in dict.fromkeys(act.state for act in menu()):
        first, second = solve_settled(machine, named_state(state), [one, other])
        for act in menu():
            if act.state != state or (machine.cord != "four-wire" and "plug-G" in act.places):
                continue
            a, spread = predicted(first, act.mode, act.places, 0.0)
            b, other_spread = predicted(second, act.mode, act.places, 0.0)
            if abs(a - b) > _APART * max(spread, other_spread):
                return False
    return True
