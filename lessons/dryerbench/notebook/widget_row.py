"""A row of widgets that goes on in the next line where a page is narrow: none is squeezed, none is cut."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import ipywidgets as widgets


def widget_row(*members: widgets.Widget) -> widgets.HBox:
    """Return a row of ``members``; put others into its ``children`` at any time."""
    import ipywidgets as widgets

    return widgets.HBox(members, layout=widgets.Layout(flex_flow="row wrap", max_width="100%"))
