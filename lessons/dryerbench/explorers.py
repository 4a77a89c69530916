"""Explorers: a drawing with knobs to move; without a live kernel or on paper, a still picture and its words."""

from __future__ import annotations

import io
import os
from base64 import b64encode
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from IPython.display import display

if TYPE_CHECKING:
    from matplotlib.figure import Figure

MODE = "LEGTOLEG_FIGURES"
"""The environment variable that says how figures show: ``live`` (default), ``still`` or ``words``."""

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
        from matplotlib.figure import Figure as NewFigure  # noqa: PLC0415

        drawn = NewFigure(figsize=self.size, dpi=100, layout="constrained")
        self.paint(drawn, self.start if values is None else values)
        return drawn

    def png(self, values: Values | None = None) -> bytes:
        """Return the drawing as a PNG, 100 dots an inch."""
        buffer = io.BytesIO()
        self.figure(values).savefig(buffer, format="png")
        return buffer.getvalue()

    def show(self) -> None:
        """Show the drawing the way this notebook can: with knobs, still, or in words only."""
        mode = os.environ.get(MODE, "live")
        said = f"{self.title}. {self.words(self.start)}"
        if mode == "words":
            show_bundle({"text/plain": said})
            return
        still = {"image/png": b64encode(self.png()).decode("ascii"), "text/plain": said}
        if mode == "still":
            show_bundle(still)
            return
        show_bundle({**_live_view(self), **still})


def show_bundle(bundle: dict[str, Any]) -> None:
    """Show one output that has several forms; the page picks the richest that it can draw."""
    display(bundle, raw=True)


def _live_view(explorer: Explorer) -> dict[str, Any]:
    import ipywidgets as widgets  # noqa: PLC0415
    from ipympl.backend_nbagg import Canvas, FigureManager  # noqa: PLC0415

    figure = explorer.figure()
    canvas = Canvas(figure)
    FigureManager(canvas, 0)
    canvas.header_visible = canvas.footer_visible = canvas.toolbar_visible = canvas.resizable = False
    says = widgets.HTML(_spoken(explorer.words(explorer.start)))
    sliders = {
        knob.name: widgets.FloatSlider(
            value=knob.start,
            min=knob.low,
            max=knob.high,
            step=knob.step,
            description=f"{knob.label} ({knob.unit})" if knob.unit else knob.label,
            readout_format=".0f" if knob.step >= 1 else ".1f",
            style={"description_width": "15em"},
            layout=widgets.Layout(width="38em"),
        )
        for knob in explorer.knobs
    }

    def redraw(_: object) -> None:
        values = {name: float(slider.value) for name, slider in sliders.items()}
        figure.clear()
        explorer.paint(figure, values)
        canvas.draw_idle()
        says.value = _spoken(explorer.words(values))

    for slider in sliders.values():
        slider.observe(redraw, "value")
    view = widgets.VBox([*sliders.values(), canvas, says])
    bundle: dict[str, Any] = view._repr_mimebundle_()
    return bundle


def _spoken(sentence: str) -> str:
    return f"<div style='font-size:1.05em;max-width:50em'>{sentence}</div>"
