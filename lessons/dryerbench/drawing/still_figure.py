"""Still figures: an SVG drawing in the theme of its page, with its words below it and for the ear."""

from __future__ import annotations

import os
from collections.abc import Mapping
from html import escape
from typing import Protocol

from dryerbench.drawing.interactive_figure import MODE, show_bundle

_FRAME = (
    ".real-thing{{margin:0.3em 0}}"
    ".real-thing svg{{display:block;width:100%;min-width:330px;max-width:{wide:g}px;height:auto}}"
    ".real-thing div{{overflow-x:auto}}"
    ".real-thing figcaption{{font-size:1.05em;line-height:1.45;max-width:58em;margin-top:0.3em}}"
    "@media screen{{[data-jp-theme-light='false'] .real-thing{{{dark}}}}}"
)


class Pictured(Protocol):
    """A drawing in SVG that knows its title, what it shows, and its width in px at most."""

    @property
    def dark(self) -> str:
        """Its colors in a dark theme, as CSS declarations."""

    @property
    def title(self) -> str:
        """What it is called."""

    @property
    def told(self) -> str:
        """What it shows, in sentences."""

    @property
    def width(self) -> float:
        """Its width in px, where there is room."""

    def for_page(self) -> str:
        """Return it as SVG whose colors are CSS variables."""

    def svg(self) -> str:
        """Return it as SVG for paper."""


def show_still(drawn: Pictured) -> None:
    """Show ``drawn`` where the notebook can, in the theme of its page, with its words below.

    On paper it is an SVG of its own; where only words are asked for, its words.
    """
    mode = os.environ.get(MODE, "live")
    said = f"{drawn.title}. {drawn.told}"
    bundle: Mapping[str, object] = {"text/plain": said}
    if mode == "print":
        bundle = {"image/svg+xml": drawn.svg(), "text/plain": said}
    elif mode != "words":
        bundle = {"text/html": _framed(drawn), "text/plain": said}
    show_bundle(bundle)


def _framed(drawn: Pictured) -> str:
    style = _FRAME.format(wide=drawn.width, dark=drawn.dark)
    words = f"<figcaption>{escape(drawn.told)}</figcaption>"
    return f"<style>{style}</style><figure class='real-thing'><div>{drawn.for_page()}</div>{words}</figure>"
