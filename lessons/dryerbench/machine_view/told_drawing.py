"""A drawing of a machine as a still figure on a page: without marks to press, and with what it shows in words."""

from __future__ import annotations

from dataclasses import dataclass

from dryerbench.machine_view.drawing import Drawing
from dryerbench.machine_view.palette import DARK, variables


@dataclass(frozen=True)
class ToldDrawing:
    """A drawing, what it shows in words, and its colors on a dark page."""

    drawn: Drawing
    told: str
    dark: str = variables(DARK)

    def __post_init__(self) -> None:
        """Take off what can be pressed: nothing answers on a page."""
        self.drawn.strip_marks()

    @property
    def title(self) -> str:
        """The drawing's title."""
        return self.drawn.title

    @property
    def width(self) -> float:
        """How wide it is drawn, in px."""
        return self.drawn.width

    def for_page(self) -> str:
        """Return it as SVG whose colors follow the page's theme."""
        return self.drawn.for_page()

    def svg(self) -> str:
        """Return it as SVG."""
        return self.drawn.svg()
