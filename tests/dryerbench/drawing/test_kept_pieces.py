"""Kept pieces: put on as they were drawn, drawn anew once anything of them changes, forgotten when gone."""

from __future__ import annotations

import gc
from collections.abc import Callable

import numpy as np
import pytest
from matplotlib.axes import Axes
from matplotlib.axis import Axis
from matplotlib.backends.backend_agg import FigureCanvasAgg, RendererAgg
from matplotlib.text import Text

from dryerbench.drawing.redrawing import KeptFigure

CHANGES: dict[str, Callable[[Axes], object]] = {
    "limits": lambda axes: axes.set_xlim(0, 7),
    "scale": lambda axes: axes.set_xscale("log"),
    "ticks": lambda axes: axes.set_xticks([1, 2]),
    "words of the ticks": lambda axes: axes.set_xticks([1, 2], ["one", "two"]),
    "color of the ticks' words": lambda axes: axes.tick_params(labelcolor="red"),
    "one word's color": lambda axes: axes.get_xticklabels()[1].set_color("red"),
    "grid": lambda axes: axes.grid(visible=True),
    "name": lambda axes: axes.set_xlabel("other"),
    "color of the name": lambda axes: axes.xaxis.label.set_color("red"),
    "size of the name": lambda axes: axes.xaxis.label.set_fontsize(14),
    "one word's size": lambda axes: axes.get_xticklabels()[1].set_fontsize(14),
    "place": lambda axes: axes.set_position((0.3, 0.3, 0.5, 0.5)),
    "hidden": lambda axes: axes.xaxis.set_visible(False),
    "turned round": lambda axes: axes.invert_xaxis(),
}


@pytest.fixture
def figure() -> KeptFigure:
    made = KeptFigure(figsize=(3, 2), dpi=100)
    axes = made.subplots()
    axes.set(xlim=(0.5, 5), ylim=(0, 1), xlabel="name")
    axes.set_position((0.2, 0.25, 0.7, 0.6))
    axes.text(1, 0.5, "words", color="black")
    made.picture(100)
    return made


def drawn(figure: KeptFigure) -> np.ndarray:
    figure.picture(100)
    return np.asarray(figure.canvas.buffer_rgba()).astype(int)


def plain(figure: KeptFigure) -> np.ndarray:
    keeping, canvas = figure.canvas, FigureCanvasAgg(figure)
    canvas.draw()
    figure.set_canvas(keeping)
    return np.asarray(canvas.buffer_rgba()).astype(int)


@pytest.mark.parametrize("name", CHANGES)
def test_a_change_of_an_axis_is_drawn(figure: KeptFigure, name: str) -> None:
    before = drawn(figure)
    CHANGES[name](figure.axes[0])
    after = drawn(figure)
    assert np.abs(after - before).max() > 50
    assert np.abs(after - plain(figure)).max() <= 4


@pytest.mark.parametrize(
    "change",
    [
        lambda text: text.set_color("red"),
        lambda text: text.set_rotation(90),
        lambda text: text.set_fontsize(14),
        lambda text: text.set_alpha(0.3),
        lambda text: text.set_text("other"),
        lambda text: text.set_position((2, 0.5)),
    ],
)
def test_a_change_of_words_is_drawn(figure: KeptFigure, change: Callable[[Text], None]) -> None:
    drawn(figure)
    before = drawn(figure)  # by now the words are kept
    change(figure.axes[0].texts[0])
    for _ in range(3):
        after = drawn(figure)
        assert np.abs(after - before).max() > 50
        assert np.abs(after - plain(figure)).max() <= 4


def test_what_stays_is_not_drawn_again(figure: KeptFigure, monkeypatch: pytest.MonkeyPatch) -> None:
    drawn(figure)
    drawn(figure)
    figure.axes[0].plot([1, 4], [0, 1])
    monkeypatch.setattr(Axis, "_update_ticks", None)  # to draw an axis would fail now
    looked_up = len(figure.canvas.keeper.pieces)
    assert np.abs(drawn(figure)).max() == 255
    assert len(figure.canvas.keeper.pieces) == looked_up


def test_words_that_are_gone_are_forgotten(figure: KeptFigure) -> None:
    text = figure.axes[0].texts[0]
    for place in range(20):
        text.set_text(f"words {place}")
        drawn(figure)
    assert len(figure.canvas.keeper.pieces) <= 2


def sheets() -> set[int]:
    gc.collect()
    return {id(one) for one in gc.get_objects() if isinstance(one, RendererAgg)}


def test_a_figure_that_is_not_moved_keeps_no_sheet(figure: KeptFigure) -> None:
    before = sheets()
    other = KeptFigure(figsize=(3, 2), dpi=100)
    other.subplots().text(0.5, 0.5, "words")
    other.draw_without_rendering()
    other.picture(100)
    assert len(sheets() - before) <= 1  # its own, and none of those on which an axis or a word was drawn
    other.forget()
    assert sheets() <= before
    assert other.picture(100)


def test_of_a_piece_only_what_is_inked_is_kept(figure: KeptFigure) -> None:
    pieces = [piece for axis in figure.kept_axes for piece in axis.pieces.values()]
    assert pieces
    for piece in pieces:
        rows = piece.rows
        assert rows.shape == (piece.high, piece.wide, 4)
        assert (rows[..., 3] > 0).sum() == piece.spots.size
        assert rows[[0, -1]].any(axis=(1, 2)).all()
        assert rows[:, [0, -1]].any(axis=(0, 2)).all()
        assert 2 * (piece.spots.nbytes + piece.colors.nbytes) < rows.nbytes


def test_words_are_cut_at_the_edge_of_their_axes_also_when_kept(figure: KeptFigure) -> None:
    text = figure.axes[0].texts[0]
    text.set(text="long words that leave the axes", clip_on=True, x=4)
    for _ in range(3):
        kept = drawn(figure)
    assert np.abs(kept - plain(figure)).max() <= 4
