"""Strokes of a wiring diagram: wires, blades, heating elements and coils, with an arrow where current flows."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from matplotlib.axes import Axes

Place = tuple[float, float]

INK = "#222222"
QUIET = "#8a8a8a"
LIT = "#b24a00"  # dark orange: apart from black for every eye, and darker than QUIET in gray
_THIN, _WIDE = 1.1, 3.4


@dataclass(frozen=True, slots=True)
class Stroke:
    """How a part is drawn: lit (current flows) or not, dashed or not, and whether the current runs backwards."""

    lit: bool = False
    backwards: bool = False
    dashed: bool = False

    @property
    def style(self) -> dict[str, object]:
        """The line's color, width and dashes."""
        return {
            "color": LIT if self.lit else INK,
            "linewidth": _WIDE if self.lit else _THIN,
            "linestyle": (0, (4, 2.5)) if self.dashed else "-",
            "solid_capstyle": "round",
            "zorder": 3 if self.lit else 2,
        }


def _plot(axes: Axes, places: list[Place], stroke: Stroke) -> None:
    axes.plot([x for x, _ in places], [y for _, y in places], **stroke.style)  # type: ignore[arg-type]


def wire(axes: Axes, places: list[Place], stroke: Stroke) -> None:
    """Draw a wire through ``places``, with an arrow in its longest stretch if lit."""
    _plot(axes, places, stroke)
    if stroke.lit:
        ends = max(pairwise(places), key=lambda pair: math.dist(*pair))
        if math.dist(*ends) > 0.5:
            _arrow(axes, *(ends[::-1] if stroke.backwards else ends))


def _arrow(axes: Axes, start: Place, end: Place) -> None:
    middle = _along(start, end, 0.5, 0.0)
    tip = _along(start, end, min(1.0, 0.5 + 0.22 / math.dist(start, end)), 0.0)
    style = {
        "arrowstyle": "-|>,head_length=0.62,head_width=0.4",
        "mutation_scale": 15,
        "facecolor": LIT,
        "edgecolor": "white",
        "linewidth": 0.7,
        "shrinkA": 0,
        "shrinkB": 0,
    }
    axes.annotate("", xy=tip, xytext=middle, arrowprops=style, zorder=4)


def _along(start: Place, end: Place, share: float, aside: float) -> Place:
    """Return the place at ``share`` of the way, ``aside`` to its left."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = math.hypot(dx, dy)
    return start[0] + share * dx - aside * dy / length, start[1] + share * dy + aside * dx / length


def contact(axes: Axes, start: Place, end: Place, stroke: Stroke, *, closed: bool) -> None:
    """Draw a switch: its blade flat if closed, raised if open."""
    near, far = _along(start, end, 0.28, 0.0), _along(start, end, 0.72, 0.0)
    _plot(axes, [start, near], stroke)
    _plot(axes, [far, end], stroke)
    _plot(axes, [near, far if closed else _along(start, end, 0.66, 0.34)], stroke)
    for place in (near, far):
        axes.plot(*place, marker="s", markersize=4.6, color=INK, markeredgecolor="white", markeredgewidth=0.8, zorder=5)


def cut_off(axes: Axes, start: Place, end: Place, stroke: Stroke, *, closed: bool) -> None:
    """Draw a one-shot cut-off: a small box with its link inside, broken if blown."""
    near, far = _along(start, end, 0.22, 0.0), _along(start, end, 0.78, 0.0)
    _plot(axes, [start, near], stroke)
    _plot(axes, [far, end], stroke)
    corners = [
        _along(start, end, share, aside) for share, aside in ((0.22, 0.2), (0.78, 0.2), (0.78, -0.2), (0.22, -0.2))
    ]
    axes.plot([x for x, _ in (*corners, corners[0])], [y for _, y in (*corners, corners[0])], color=INK, linewidth=0.9)
    if closed:
        _plot(axes, [near, far], stroke)
    else:
        _plot(axes, [near, _along(start, end, 0.42, 0.0)], stroke)
        _plot(axes, [_along(start, end, 0.58, 0.0), far], stroke)


def element(axes: Axes, start: Place, end: Place, stroke: Stroke) -> None:
    """Draw a resistance: seven strokes to and fro."""
    shares = [0.2, *(0.2 + 0.6 * (k + 0.5) / 8 for k in range(8)), 0.8]
    asides = [0.0, *(0.2 if k % 2 else -0.2 for k in range(8)), 0.0]
    zigzag = [_along(start, end, share, aside) for share, aside in zip(shares, asides, strict=True)]
    _plot(axes, [start, *zigzag, end], stroke)


def coil(axes: Axes, start: Place, end: Place, stroke: Stroke) -> None:
    """Draw a winding: four humps."""
    humps = []
    for hump in range(4):
        for turn in np.linspace(math.pi, 0.0, 12):
            share = 0.18 + 0.16 * (hump + 0.5) + 0.08 * math.cos(turn)
            humps.append(_along(start, end, share, 0.22 * math.sin(turn)))
    _plot(axes, [start, *humps, end], stroke)
