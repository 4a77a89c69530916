"""The tech sheet of the machine of call 3, as it lies folded in the machine."""

from __future__ import annotations

from html import escape

from dryerbench.core.errors import LegToLegError
from dryerbench.drawing.interactive_figure import show_bundle
from dryerbench.topics.call_to_close.sheet import CallCard


class TechSheetError(LegToLegError, TypeError):
    """A card that has no tech sheet."""


def show_tech_sheet(card: object) -> None:
    """Show the tech sheet of call 3: parts, ratings, ohms, what each wire joins, readings of a good dryer.

    Raises
    ------
    TechSheetError
        If ``card`` is not the card of lesson 10.
    """
    if not isinstance(card, CallCard):
        raise TechSheetError("Give show_tech_sheet the card of lesson 10: show_tech_sheet(card).")
    text = "\n".join(card.tech_sheet)
    show_bundle({"text/plain": text, "text/html": f"<pre tabindex='0' aria-label='Tech sheet'>{escape(text)}</pre>"})
