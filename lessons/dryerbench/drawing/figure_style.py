"""The style of every figure: the colors, the axes' frame and grid, the white box behind a word.

Colors are of Okabe and Ito's palette (2008), which people with any color vision tell apart. A color is never alone:
every line has its own dash or mark as well, every bar its hatch.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from matplotlib.axes import Axes

BLACK, ORANGE, SKY, GREEN, BLUE, RED = "#000000", "#E69F00", "#56B4E9", "#009E73", "#0072B2", "#D55E00"
AMBER = "#B85C00"
"""What asks for a second look: dark enough to read as text on white, and apart from blue for everybody."""
GRAY, GRID, DARK = "#666666", "#DDDDDD", "#404040"
"""Neutral tones: what is not the point of a figure, its grid, and small print."""
PALE_BLUE, PALE_RED = "#CFE3F1", "#F6D9C8"
"""Fills under an edge of the same color."""


def tidy(axes: Axes, x: str = "", y: str = "", grid: Literal["both", "x", "y"] | None = "both") -> None:
    """Label the axes with ``x`` and ``y`` (with units), draw the ``grid`` behind everything, open the frame."""
    if x:
        axes.set_xlabel(x)
    if y:
        axes.set_ylabel(y)
    if grid:
        axes.grid(visible=True, axis=grid, color=GRID, linewidth=0.6)
        axes.set_axisbelow(True)
    axes.spines[["top", "right"]].set_visible(False)


def label_box(edge: str = GRAY, pad: float = 0.25) -> dict[str, object]:
    """Return the white box behind a word in a figure, as matplotlib's ``bbox``; ``pad`` in font sizes."""
    return {"boxstyle": f"round,pad={pad}", "fc": "white", "ec": edge}
