"""Explorers: a drawing with knobs to move; without a live kernel or on paper, a still picture and its words."""

from __future__ import annotations

import io
import os
from base64 import b64encode
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from html import escape
from textwrap import fill
from typing import TYPE_CHECKING

from IPython.display import display

from dryerbench.drawing.knobs import Knob, Values

if TYPE_CHECKING:
    from matplotlib.figure import Figure
    from matplotlib.transforms import Bbox

    from dryerbench.drawing.redrawing import KeptFigure

MODE = "LEGTOLEG_FIGURES"
"""The environment variable that says how figures show: ``live`` (default), ``still``, ``print`` or ``words``."""

WIDTH = 5.4
"""How wide a figure is laid out, in inches: its words of 10 points are then 15 px tall in ``PIXELS``, 9 on a phone."""
PIXELS = 592
"""How wide a figure is shown at most, in px: the column of a notebook on a page of 1024 px."""
LEAST = 330
"""How wide a figure is shown at least, in px: a narrower column moves it sideways, so that words stay readable."""
_TITLE_LETTERS = 50
_DOTS = {"still": 150, "print": 300}
"""Dots an inch of a still picture by how it is shown; a live one has as many as its screen."""
_PICTURES = 64
"""How many pictures a live figure keeps, some 40 kB each: a knob moved back and forth is not drawn again."""

_STILL_STYLE = (
    ".fig-still{margin:0.3em 0;overflow-x:auto}"
    ".fig-still img{display:block;width:100%;min-width:LEAST;max-width:WIDE;height:auto;background:#fff}"
    "@media screen{[data-jp-theme-light='false'] .fig-still img"
    "{filter:invert(1) hue-rotate(180deg);mix-blend-mode:screen}}"
)


@dataclass(frozen=True)
class Places:
    """Where the axes and the free texts of a drawing came to stand, in shares of the figure.

    A title's height is in shares of its axes; given, it is not looked for again each time.
    """

    axes: tuple[Bbox, ...]
    titles: tuple[float, ...]
    texts: tuple[tuple[float, float], ...]

    @classmethod
    def of(cls, figure: Figure) -> Places:
        """Lay ``figure`` out, once, and return where everything stands."""
        figure.draw_without_rendering()
        return cls(
            tuple(axes.get_position(original=True) for axes in figure.axes),
            tuple(float(axes.title.get_position()[1]) for axes in figure.axes),
            tuple(text.get_position() for text in figure.texts),
        )

    def put(self, figure: Figure) -> None:
        """Put everything in ``figure`` where it stood."""
        for axes, place, height in zip(figure.axes, self.axes, self.titles, strict=True):
            axes.set_position(place)
            axes.set_title(axes.get_title(), y=height, fontsize=axes.title.get_fontsize())
        for text, spot in zip(figure.texts, self.texts, strict=True):
            text.set_position(spot)


@dataclass(frozen=True)
class Explorer:
    """A drawing of some values, the knobs that set them, and the sentence that says what it shows."""

    title: str
    knobs: tuple[Knob, ...]
    paint: Callable[[Figure, Values], None]
    words: Callable[[Values], str]
    height: float = 3.9
    """How high the drawing is, in inches; it is ``WIDTH`` wide."""
    least: int = LEAST
    """How wide its picture is shown at least, in px."""

    @property
    def start(self) -> Values:
        """The values that the knobs start at."""
        return {knob.name: knob.start for knob in self.knobs}

    def figure(self, values: Values | None = None) -> KeptFigure:
        """Return the drawing at ``values`` (default: the start) as a Figure of its own, outside pyplot."""
        from dryerbench.drawing.redrawing import KeptFigure as NewFigure

        drawn = NewFigure(figsize=(WIDTH, self.height), dpi=100, layout="constrained")
        self.paint(drawn, self.start if values is None else values)
        _fit_titles(drawn)
        return drawn

    def redraw(self, figure: KeptFigure, values: Values, places: Places) -> None:
        """Paint ``figure`` again at ``values``, everything where it stood before: no layout is worked out."""
        figure.wipe()
        figure.set_layout_engine("none")
        self.paint(figure, values)
        _fit_titles(figure)
        places.put(figure)

    def png(self, values: Values | None = None, *, dots: int = _DOTS["still"]) -> bytes:
        """Return the drawing as a PNG, ``dots`` an inch."""
        return _png(self.figure(values), dots)

    def show(self) -> None:
        """Show the drawing the way this notebook can: with knobs, still, or in words only."""
        mode = os.environ.get(MODE, "live")
        said = f"{self.title}. {self.words(self.start)}"
        if mode == "words":
            show_bundle({"text/plain": said})
            return
        picture = self.png(dots=_DOTS["print" if mode == "print" else "still"])
        still = {"image/png": b64encode(picture).decode("ascii"), "text/plain": said}
        if mode in ("still", "print"):
            themed = {} if mode == "print" else {"text/html": _themed(still["image/png"], said)}
            show_bundle({**themed, **still})
            return
        show_bundle({**_live_view(self), **still})


def show_bundle(bundle: Mapping[str, object]) -> None:
    """Show one output that has several forms; the page picks the richest that it can draw."""
    display(dict(bundle), raw=True)


def _fit_titles(figure: Figure) -> None:
    """Write each title in lines that its axes can hold."""
    for axes in figure.axes:
        for side in ("left", "center"):
            words = axes.get_title(side)
            if words:
                place = axes.get_subplotspec()
                share = place.get_geometry()[1] if place else 1
                axes.set_title(fill(words, _TITLE_LETTERS // share), loc=side, fontsize=11)


def _png(figure: Figure, dots: int) -> bytes:
    buffer = io.BytesIO()
    figure.savefig(buffer, format="png", dpi=dots, pil_kwargs={"compress_level": 1})
    return buffer.getvalue()


def _themed(picture: str, said: str) -> str:
    """Return a PNG for a page: in a dark theme its light and dark change places, as those of a live figure do."""
    style = _STILL_STYLE.replace("WIDE", f"{PIXELS}px").replace("LEAST", f"{LEAST}px")
    image = f"<img alt='{escape(said, quote=True)}' src='data:image/png;base64,{picture}'>"
    return f"<style>{style}</style><figure class='fig-still'>{image}</figure>"


def _live_view(explorer: Explorer) -> dict[str, object]:
    from dryerbench.drawing.figure_view import FigureView

    wide = max(PIXELS, explorer.least)
    figure = explorer.figure()
    places = Places.of(figure)
    at_once = wide / WIDTH

    @lru_cache(maxsize=_PICTURES)
    def drawn(values: tuple[float, ...], ratio: float) -> tuple[bytes, str]:
        """Put everything where it stood; a place where the knobs were before is not drawn again."""
        at = dict(zip(explorer.start, values, strict=True))
        explorer.redraw(figure, at, places)
        return figure.picture(at_once * ratio), explorer.words(at)

    def asked(values: Values, ratio: float) -> tuple[bytes, str]:
        return drawn(tuple(values.values()), ratio)

    shown = FigureView(explorer.title, explorer.knobs, wide, explorer.least, asked).bundle()
    figure.forget()  # most figures of a page are looked at, and not moved
    return shown
