"""Kept pieces: what of a drawing stays from one move of a knob to the next is put on as a picture.

Most of the time of a drawing goes into its scales (ticks, numbers, grid lines) and its words; few moves change them.
"""

from __future__ import annotations

import math
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg, RendererAgg
from matplotlib.text import Text

if TYPE_CHECKING:
    from collections.abc import Iterator

    from matplotlib.artist import Artist
    from matplotlib.axis import Axis, Tick
    from matplotlib.backend_bases import GraphicsContextBase
    from matplotlib.font_manager import FontProperties
    from numpy.typing import NDArray


_SCALES = 6
"""How many pictures of one axis are kept: a knob of a few steps goes to and fro between them."""
_ROOM = 4
"""Px round words for what sticks out of their box: a slanted edge, a smoothed one."""


def let_go(artist: Artist) -> None:
    """Take from the words in ``artist`` the renderer that drew them last: each would keep a picture of 4 MiB alive.

    They ask their figure for another.
    """
    for words in artist.findobj(Text):
        vars(words)["_renderer"] = None


@dataclass(frozen=True)
class Piece:
    """A piece of a drawing as a picture: its lower left corner, width and height in px, and what is inked of it.

    A scale is mostly see-through: only its inked spots are kept, a tenth of what its rows would take.
    """

    left: int
    bottom: int
    wide: int
    high: int
    spots: NDArray[np.int32]
    """Where it is inked, counted along its rows, the bottom row first."""
    colors: NDArray[np.uint32]
    """RGBA there."""

    @classmethod
    def of(cls, sheet: RendererAgg, left: int = 0, bottom: int = 0) -> Piece:
        """Cut out what was drawn on a see-through ``sheet``, whose lower left corner is at ``left``, ``bottom``."""
        drawn = np.asarray(sheet.buffer_rgba())  # type: ignore[no-untyped-call]
        inked = drawn[..., 3] > 0
        down, across = np.flatnonzero(inked.any(axis=1)), np.flatnonzero(inked.any(axis=0))
        if not down.size:
            return cls(0, 0, 0, 0, np.zeros(0, np.int32), np.zeros(0, np.uint32))
        box = (slice(down[0], down[-1] + 1), slice(across[0], across[-1] + 1))
        spots = np.flatnonzero(inked[box][::-1]).astype(np.int32)
        colors = np.ascontiguousarray(drawn[box][::-1]).view(np.uint32).ravel()[spots]
        high, wide = inked[box].shape
        return cls(left + int(across[0]), bottom + len(drawn) - 1 - int(down[-1]), wide, high, spots, colors)

    @property
    def rows(self) -> NDArray[np.uint8]:
        """Its rows of RGBA, the bottom row first."""
        whole = np.zeros(self.high * self.wide, np.uint32)
        whole[self.spots] = self.colors
        return whole.view(np.uint8).reshape(self.high, self.wide, 4)

    def put(self, renderer: RendererAgg, marks: GraphicsContextBase) -> None:
        """Put it on where it was."""
        if self.spots.size:
            renderer.draw_image(marks, self.left, self.bottom, self.rows)


class KeptAxis:
    """The drawing of one axis: it stands in for the axis's own ``draw`` and draws only what changed.

    Everything that an axis's drawing hangs on is compared before each drawing: see ``_look``.
    """

    def __init__(self, axis: Axis) -> None:
        self.axis = axis
        self.draw_anew = axis.draw
        self.pieces: dict[tuple[object, ...], Piece] = {}
        """The last few, by all that they hang on."""

    @contextmanager
    def drawing(self) -> Iterator[None]:
        """Draw for the axis, as long as this lasts."""
        vars(self.axis)["draw"] = self.draw
        try:
            yield
        finally:
            del vars(self.axis)["draw"]

    def draw(self, renderer: RendererAgg) -> None:
        """Put the axis on as it was drawn, or draw it if anything of it has changed."""
        if not self.axis.get_visible():
            return
        looks = (renderer.width, renderer.height, renderer.dpi, *_look(self.axis))
        if looks not in self.pieces:
            sheet = RendererAgg(renderer.width, renderer.height, renderer.dpi)  # type: ignore[no-untyped-call]
            self.draw_anew(sheet)
            self.pieces[looks] = Piece.of(sheet)
            let_go(self.axis)
            if len(self.pieces) > _SCALES:
                del self.pieces[next(iter(self.pieces))]
        marks = renderer.new_gc()
        self.pieces[looks].put(renderer, marks)
        marks.restore()


def _look(axis: Axis) -> tuple[object, ...]:
    """Return all that the drawing of ``axis`` hangs on: where it stands, its ticks in px, its words, its styles."""
    across = axis.get_transform().transform
    found: list[object] = [axis.axes.bbox.bounds, tuple(across(axis.get_view_interval()))]
    major, minor = axis.get_major_locator()(), axis.get_minor_locator()()
    for ticks, places, formatter, style in (
        (axis.majorTicks, major, axis.get_major_formatter(), axis.get_tick_params("major")),
        (axis.minorTicks, minor, axis.get_minor_formatter(), axis.get_tick_params("minor")),
    ):
        found += [tuple(across(np.asarray(places))), tuple(formatter.format_ticks(list(places))), repr(style)]
        found += [_words_of(tick) for tick in ticks[: len(places)]]
    found += [_style(axis.label), axis.label.get_text(), axis.labelpad, axis.get_label_position()]
    return (*found, axis.get_major_formatter().get_offset())


def _words_of(tick: Tick) -> tuple[object, ...]:
    return (*_style(tick.label1), *_style(tick.label2))


def _style(words: Text) -> tuple[object, ...]:
    """Return how ``words`` look; their font is one's own copy, because a text changes its font in place."""
    return (words.get_visible(), words.get_color(), words.get_fontproperties().copy(), words.get_rotation())


class WordKeeper(RendererAgg):
    """A renderer that keeps the pictures of words that stand where they stood before, looking the same."""

    def __init__(self, width: float, height: float, dpi: float) -> None:
        super().__init__(width, height, dpi)  # type: ignore[no-untyped-call]
        self.pieces: dict[tuple[object, ...], Piece] = {}
        """By words and all that their picture hangs on."""
        self.seen: set[tuple[object, ...]] = set()

    def begin(self) -> None:
        """Forget what was not in the last picture."""
        self.pieces = {key: piece for key, piece in self.pieces.items() if key in self.seen}
        self.seen.clear()

    def draw_text(
        self,
        gc: GraphicsContextBase,
        x: float,
        y: float,
        s: str,
        prop: FontProperties,
        angle: float,
        ismath: bool | str = False,
        mtext: Text | None = None,
    ) -> None:
        """Draw ``s`` at ``x`` and ``y`` [px, ``y`` from the top], or put it on as it was drawn there before."""
        key = (s, x, y, prop.copy(), angle, ismath, gc.get_rgb(), gc.get_alpha(), gc.get_antialiased())
        self.seen.add(key)
        if key not in self.pieces:
            self.pieces[key] = self._words(gc, x, y, s, prop, angle, ismath, mtext)
        marks = self.new_gc()
        marks.copy_properties(gc)
        marks.set_alpha(1.0)
        self.pieces[key].put(self, marks)
        marks.restore()

    def _words(
        self,
        gc: GraphicsContextBase,
        x: float,
        y: float,
        s: str,
        prop: FontProperties,
        angle: float,
        ismath: bool | str,
        mtext: Text | None,
    ) -> Piece:
        """Draw ``s`` on a sheet of its own, just as large as it needs, whole px away from where it stands."""
        wide, high, below = self.get_text_width_height_descent(s, prop, ismath)  # type: ignore[no-untyped-call]
        if angle:
            reach = math.hypot(wide, high)
            box = (x - reach, y - reach, x + reach, y + reach)
        else:
            box = (x, y - (high - below), x + wide, y + below)
        left, top = (math.floor(one) - _ROOM for one in box[:2])
        right, bottom = (math.ceil(one) + _ROOM for one in box[2:])
        sheet = RendererAgg(right - left, bottom - top, self.dpi)  # type: ignore[no-untyped-call]
        free = sheet.new_gc()
        free.set_foreground(gc.get_rgb(), isRGBA=True)
        free.set_alpha(gc.get_alpha())
        free.set_antialiased(bool(gc.get_antialiased()))
        sheet.draw_text(free, x - left, y - top, s, prop, angle, ismath, mtext)  # type: ignore[no-untyped-call]
        return Piece.of(sheet, left, int(self.height) - bottom)


class KeepingCanvas(FigureCanvasAgg):
    """The canvas of a figure that is drawn again and again."""

    keeper: WordKeeper | None = None

    def forget(self) -> None:
        """Let go of the renderer and its pieces."""
        self.keeper = None
        vars(self).pop("renderer", None)

    def get_renderer(self) -> WordKeeper:
        """Return the renderer: the same as long as the size of the figure in px stays."""
        wide, high = self.get_width_height(physical=True)
        now = self.keeper
        if now is None or (int(now.width), int(now.height), now.dpi) != (wide, high, self.figure.dpi):
            now = self.keeper = self.renderer = WordKeeper(wide, high, self.figure.dpi)
        return now
