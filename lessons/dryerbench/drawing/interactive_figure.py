"""Explorers: a drawing with knobs to move; without a live kernel or on paper, a still picture and its words."""

from __future__ import annotations

import io
import os
from base64 import b64encode
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from IPython.display import display

if TYPE_CHECKING:
    from matplotlib.figure import Figure
    from matplotlib.transforms import Bbox

MODE = "LEGTOLEG_FIGURES"
"""The environment variable that says how figures show: ``live`` (default), ``still``, ``print`` or ``words``."""

Values = dict[str, float]


@dataclass(frozen=True)
class Knob:
    """One thing to move: its name, label, range, step and start, all in ``unit``."""

    name: str
    label: str
    low: float
    high: float
    step: float
    start: float
    unit: str

    @property
    def named(self) -> str:
        """The label with its unit."""
        return f"{self.label} ({self.unit})" if self.unit else self.label


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
            tuple(axes.get_position() for axes in figure.axes),
            tuple(float(axes.title.get_position()[1]) for axes in figure.axes),
            tuple(text.get_position() for text in figure.texts),
        )

    def put(self, figure: Figure) -> None:
        """Put everything in ``figure`` where it stood."""
        for axes, place, height in zip(figure.axes, self.axes, self.titles, strict=True):
            axes.set_position(place)
            axes.set_title(axes.get_title(), y=height)
        for text, spot in zip(figure.texts, self.texts, strict=True):
            text.set_position(spot)


@dataclass(frozen=True)
class Explorer:
    """A drawing of some values, the knobs that set them, and the sentence that says what it shows."""

    title: str
    knobs: tuple[Knob, ...]
    paint: Callable[[Figure, Values], None]
    words: Callable[[Values], str]
    size: tuple[float, float] = (8.0, 4.2)

    @property
    def start(self) -> Values:
        """The values that the knobs start at."""
        return {knob.name: knob.start for knob in self.knobs}

    def figure(self, values: Values | None = None) -> Figure:
        """Return the drawing at ``values`` (default: the start) as a Figure of its own, outside pyplot."""
        from matplotlib.figure import Figure as NewFigure

        drawn = NewFigure(figsize=self.size, dpi=100, layout="constrained")
        self.paint(drawn, self.start if values is None else values)
        return drawn

    def redraw(self, figure: Figure, values: Values, places: Places) -> None:
        """Paint ``figure`` again at ``values``, everything where it stood before: no layout is worked out."""
        figure.clear()
        figure.set_layout_engine("none")
        self.paint(figure, values)
        places.put(figure)

    def png(self, values: Values | None = None, *, dots: int = 100) -> bytes:
        """Return the drawing as a PNG, ``dots`` an inch."""
        buffer = io.BytesIO()
        self.figure(values).savefig(buffer, format="png", dpi=dots)
        return buffer.getvalue()

    def show(self) -> None:
        """Show the drawing the way this notebook can: with knobs, still, or in words only."""
        mode = os.environ.get(MODE, "live")
        said = f"{self.title}. {self.words(self.start)}"
        if mode == "words":
            show_bundle({"text/plain": said})
            return
        picture = self.png(dots=200 if mode == "print" else 100)
        still = {"image/png": b64encode(picture).decode("ascii"), "text/plain": said}
        if mode in ("still", "print"):
            show_bundle(still)
            return
        show_bundle({**_live_view(self), **still})


def show_bundle(bundle: Mapping[str, object]) -> None:
    """Show one output that has several forms; the page picks the richest that it can draw."""
    display(dict(bundle), raw=True)


def _live_view(explorer: Explorer) -> dict[str, object]:
    import ipywidgets as widgets
    from ipympl.backend_nbagg import Canvas, FigureManager

    figure = explorer.figure()
    canvas = Canvas(figure)
    FigureManager(canvas, 0)
    places: list[Places] = []  # found with the first move: a page that is only read need not wait for it
    canvas.header_visible = canvas.footer_visible = canvas.toolbar_visible = canvas.resizable = False
    says = widgets.HTML(_spoken(explorer.words(explorer.start)))
    named = max((len(knob.named) for knob in explorer.knobs), default=0)
    room = max(15.0, 0.62 * named)  # in em: no name is cut off
    sliders = {
        knob.name: widgets.FloatSlider(
            value=knob.start,
            min=knob.low,
            max=knob.high,
            step=knob.step,
            description=knob.named,
            readout_format=".0f" if knob.step >= 1 else ".1f",
            style={"description_width": f"{room:.1f}em"},
            layout=widgets.Layout(width=f"{room + 23:.1f}em"),
        )
        for knob in explorer.knobs
    }

    def redraw(_: object) -> None:
        values = {name: float(slider.value) for name, slider in sliders.items()}
        if not places:
            places.append(Places.of(figure))
        explorer.redraw(figure, values, places[0])
        canvas.draw_idle()
        says.value = _spoken(explorer.words(values))

    for slider in sliders.values():
        slider.observe(redraw, "value")
    view = widgets.VBox([*sliders.values(), canvas, says])
    bundle: dict[str, object] = view._repr_mimebundle_()
    return bundle


def _spoken(sentence: str) -> str:
    return f"<div style='font-size:1.05em;line-height:1.45;max-width:58em'>{sentence}</div>"
