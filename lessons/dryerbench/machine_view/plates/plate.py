"""A plate: a drawing with large words, panels with a heading, and words that point at what they name."""

from __future__ import annotations

from dryerbench.machine_view.drawing import Drawing
from dryerbench.machine_view.geometry import Box, Place
from dryerbench.machine_view.palette import DARK, variables
from dryerbench.machine_view.strokes import EDGE, FINE, at, disc, line, path, rect

WIDTH = 560.0
"""The width of every plate, in units: about the column of a notebook on a page of 1024 px."""
SIZE = 17.0
"""The height of words: 10.6 px where the plate is shown 350 px wide."""
_LEADING = 21.0


class Plate(Drawing):
    """A drawing ``WIDTH`` wide and ``height`` high with its title and the sentence that tells what it shows."""

    def __init__(self, height: float, title: str, told: str) -> None:
        super().__init__(WIDTH, height, title, told)

    @property
    def dark(self) -> str:
        """The colors of a dark theme, as CSS declarations."""
        return variables(DARK)

    def say(self, x: float, y: float, words: str, anchor: str = "middle", *, bold: bool = False) -> None:
        """Write lines of words (split at newlines), the first on the level ``y``."""
        for k, one in enumerate(words.split("\n")):
            self.word(x, y + k * _LEADING, one, SIZE, anchor, 700 if bold else 400)

    def call(self, x: float, y: float, words: str, to: Place, start: Place, anchor: str = "start") -> None:
        """Write words at (x, y) and draw a thin line from ``start``, beside them, to the thing at ``to``."""
        self.add(line(*start, *to, 1.1), disc(*to, 3.2, "$ink", 1.2, "$white"))
        self.say(x, y, words, anchor)

    def panel(self, box: Box, heading: str, name: str) -> None:
        """Draw a frame with its heading; ``name`` keeps it apart from the other panels."""
        self.part(name, box)
        self.add(rect(box, "$white", FINE, 8, "$faint"))
        self.say(box.middle[0], box.y + 26, heading, bold=True)


def good_sign(x: float, y: float) -> str:
    """Return a check mark in a ring, for what is right."""
    return disc(x, y, 13, "$white", 2) + path(f"M{x - 6} {y}l5 6 8-11", "none", 2.6)


def bad_sign(x: float, y: float) -> str:
    """Return a cross in a square, for what is wrong: told by its shape, not by its color."""
    box = rect(Box(x - 12, y - 12, 24, 24), "$ink", 2, 4)
    return box + path(f"M{x - 5} {y - 5}l10 10M{x + 5} {y - 5}l-10 10", "none", 2.6, "$on-ink")


def ring_terminal(x: float, y: float, degrees: float = -90.0) -> str:
    """Return the ring at a wire's end, its barrel pointing along ``degrees``."""
    barrel = rect(Box(9, -6, 20, 12), "$zinc", EDGE, 2) + line(16, -6, 16, 6, FINE) + line(22, -6, 22, 6, FINE)
    return at(x, y, barrel, degrees=degrees) + disc(x, y, 13, "$zinc", EDGE) + disc(x, y, 6, "$slate", FINE)


def screw_head(x: float, y: float, r: float = 10.0) -> str:
    """Return a screw's head with a cross slot."""
    slot = r * 0.55
    cross = line(x - slot, y, x + slot, y, 2.2) + line(x, y - slot, x, y + slot, 2.2)
    return disc(x, y, r, "$zinc", EDGE) + cross
