"""The live view of a figure: sliders that say what they are, the picture, and its words; drawn anew after each move."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import asdict
from pathlib import Path

import anywidget
import traitlets

from dryerbench.drawing.knobs import Knob, Values

Drawn = Callable[[Values, float], tuple[bytes, str]]
"""From the knobs' values and the screen's dots a px to the picture (PNG) and its words."""
SHARPEST = 2.0
"""Most dots a px that a picture gets: more is not seen, and takes longer to draw."""
_DOTS = Knob("ratio", "", 1.0, SHARPEST, 0.25, 1.0, "")


class FigureView(anywidget.AnyWidget):  # type: ignore[misc]
    """A figure in a page. The page sends the knobs' values; it gets the picture and the words back."""

    _esm = Path(__file__).with_name("figure_view.js")
    title = traitlets.Unicode().tag(sync=True)
    knobs = traitlets.List().tag(sync=True)
    values = traitlets.Dict().tag(sync=True)
    wide = traitlets.Int().tag(sync=True)
    least = traitlets.Int().tag(sync=True)
    picture = traitlets.Bytes().tag(sync=True)
    words = traitlets.Unicode().tag(sync=True)
    turn = traitlets.Int().tag(sync=True)

    def __init__(self, title: str, knobs: tuple[Knob, ...], wide: int, least: int, drawn: Drawn) -> None:
        self.drawn = drawn
        self.moves = knobs
        start = {knob.name: knob.start for knob in knobs}
        picture, words = drawn(start, SHARPEST)
        told = [{**asdict(knob), "named": knob.named} for knob in knobs]
        super().__init__(title=title, knobs=told, values=start, wide=wide, least=least, picture=picture, words=words)
        self.on_msg(lambda _, content, __: self.receive(content))

    def receive(self, content: object) -> None:
        """Draw the values that the page sends; what is no number within its knob's range stays as it was."""
        sent = content.get("values") if isinstance(content, dict) else None
        if isinstance(content, dict) and isinstance(sent, dict):
            values = {knob.name: knob.within(sent.get(knob.name), self.values[knob.name]) for knob in self.moves}
            picture, words = self.drawn(values, _DOTS.within(content.get("ratio"), _DOTS.start))
            with self.hold_sync():
                self.values, self.picture, self.words = values, picture, words
                self.turn += 1

    def bundle(self) -> dict[str, object]:
        """Return the widget as one output of a notebook's cell."""
        made = self._repr_mimebundle_()
        view: dict[str, object] = made[0] if isinstance(made, tuple) else made
        return dict(view)
