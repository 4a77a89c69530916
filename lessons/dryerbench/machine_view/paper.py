"""Folded paper, on which the wiring sheet is drawn."""

from __future__ import annotations

from dryerbench.machine_view.drawing import Drawing
from dryerbench.machine_view.geometry import outline
from dryerbench.machine_view.strokes import EDGE, FINE, line, path, shade


def folded_paper(drawing: Drawing, width: float, height: float) -> None:
    """Draw folded paper: four panels, a turned corner."""
    xs = [8.0, width * 0.26, width * 0.5, width * 0.75, width - 8]
    top = [(x, 8.0 + (5 if k % 2 else 0)) for k, x in enumerate(xs)]
    low = [(x, height - 8.0 - (5 if k % 2 else 0)) for k, x in enumerate(xs)]
    corner = 30.0
    edge = [*top[:-1], (xs[-1] - corner, 8.0), (xs[-1], 8 + corner), *reversed(low)]
    drawing.add(path(outline(edge), "$white", EDGE))
    for k in (1, 3):
        right = top[k + 1] if k < 3 else (xs[-1] - corner, 8.0)
        extra = [(xs[-1], 8 + corner)] if k == 3 else []
        drawing.add(shade(outline([top[k], right, *extra, low[k + 1], low[k]]), 0.04))
    drawing.add(*(line(x, 10, x, height - 10, FINE, "$faint") for x in xs[1:-1]))
    fold = outline([(xs[-1] - corner, 8.0), (xs[-1] - corner, 8 + corner), (xs[-1], 8 + corner)])
    drawing.add(path(fold, "$paper", EDGE), shade(fold, 0.08))
