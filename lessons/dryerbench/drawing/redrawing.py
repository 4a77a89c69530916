"""Redrawing: one figure is kept for all moves of its knobs, its axes and ticks with it, and drawn once a move.

To make axes and ticks takes longer than to draw them. So a painter asks for its axes as of a new figure, and gets the
ones that are there, wiped: nothing of the data is left. What a painter sets of an axis (its scale, its ticks) it must
set each time.
"""

from __future__ import annotations

import io
import weakref
from contextlib import ExitStack
from threading import RLock
from typing import TYPE_CHECKING

import numpy as np
from matplotlib.artist import Artist
from matplotlib.category import UnitData
from matplotlib.figure import Figure
from PIL import Image

from dryerbench.drawing.kept_pieces import KeepingCanvas, KeptAxis, let_go

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from matplotlib.axes import Axes
    from matplotlib.backend_bases import RendererBase
    from numpy.typing import NDArray

_COLORS = 256
"""How many colors a picture keeps: a figure has some ten, and the steps between them at its edges."""


_ONE_AT_A_TIME = RLock()


class KeptFigure(Figure):
    """A figure whose grid of axes is made once: asked for again after ``wipe``, it is given back empty."""

    grid: object = None
    kept_axes: Sequence[KeptAxis] = ()

    def subplots(self, *shape: object, **settings: object) -> object:  # type: ignore[override]
        """Return the figure's one grid of axes: made the first time, the same afterwards."""
        if self.grid is None:
            self.grid = super().subplots(*shape, **settings)  # type: ignore[call-overload]
        return self.grid

    def wipe(self) -> None:
        """Take everything out but the grid of axes and the title over all of it; any other axes go."""
        if self.grid is None:
            self.clear()
            return
        over_all = self.get_suptitle()
        for text in [one for one in self.texts if not over_all or one.get_text() != over_all]:
            text.remove()
        for legend in list(self.legends):
            legend.remove()
        for axes in self.axes:
            _wipe_axes(axes)

    def _keep_axes(self) -> Sequence[KeptAxis]:
        """Return what draws the scales of all axes, the second ones too: the same from one picture to the next."""
        all_axes = [one for axes in self.axes for one in (axes, *axes.child_axes)]
        there = [axis for axes in all_axes for axis in (axes.xaxis, axes.yaxis)]
        if [one.axis for one in self.kept_axes] != there:
            self.kept_axes = [KeptAxis(axis) for axis in there]
        return self.kept_axes

    def forget(self) -> None:
        """Let go of what is kept from one picture to the next; the next picture is drawn anew."""
        self.kept_axes = ()
        if isinstance(self.canvas, KeepingCanvas):
            self.canvas.forget()
        let_go(self)

    def picture(self, dots: float) -> bytes:
        """Return the figure as it is, as a PNG of ``dots`` an inch.

        Only the figure that is being moved keeps its pieces: a page has many, and a class has many pages.
        """
        with _ONE_AT_A_TIME:
            before = _MOVED[0]() if _MOVED else None
            if before is not self:
                _MOVED[:] = [weakref.ref(self)]
                if before is not None:
                    before.forget()
            return self._drawn(dots)

    def _drawn(self, dots: float) -> bytes:
        if self.dpi != dots:
            self.set_dpi(dots)
        canvas = self.canvas if isinstance(self.canvas, KeepingCanvas) else KeepingCanvas(self)
        canvas.get_renderer().begin()
        with ExitStack() as kept:
            for one in self._keep_axes():
                kept.enter_context(one.drawing())
            canvas.draw()  # type: ignore[no-untyped-call]
        flat = Image.fromarray(np.asarray(canvas.buffer_rgba())).convert("RGB")  # type: ignore[no-untyped-call]
        buffer = io.BytesIO()
        few = flat.quantize(_COLORS, method=Image.Quantize.FASTOCTREE, dither=Image.Dither.NONE)
        few.save(buffer, format="png", compress_level=1)
        return buffer.getvalue()


_MOVED: list[weakref.ref[KeptFigure]] = []
"""The figure whose picture was made last."""


class Pasted(Artist):
    """A picture put over a whole figure as it is, nothing scaled: ``picture`` gives it for a width in px.

    Its rows are of red, green, blue, alpha, the bottom row first.
    """

    def __init__(self, picture: Callable[[int], NDArray[np.uint8]]) -> None:
        super().__init__()
        self.picture = picture

    def draw(self, renderer: RendererBase) -> None:
        """Put the picture at the lower left."""
        wide, _ = renderer.get_canvas_width_height()
        marks = renderer.new_gc()
        renderer.draw_image(marks, 0, 0, self.picture(round(wide)))
        marks.restore()


def _wipe_axes(axes: Axes) -> None:
    for artist in [
        *axes.lines,
        *axes.patches,
        *axes.collections,
        *axes.texts,
        *axes.images,
        *axes.artists,
        *axes.tables,
    ]:
        artist.remove()
    axes.containers.clear()
    legend = axes.get_legend()
    if legend is not None:
        legend.remove()
    axes.set_prop_cycle(None)
    for axis in (axes.xaxis, axes.yaxis):
        if isinstance(axis.units, UnitData):  # else the words below bars add up from move to move
            axis.set_units(UnitData())  # type: ignore[no-untyped-call]
    axes.relim()
    axes.autoscale(enable=True)
    axes.xaxis.set_inverted(False)
    axes.yaxis.set_inverted(False)
