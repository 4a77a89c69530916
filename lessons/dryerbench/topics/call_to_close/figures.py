"""The tech sheet of the machine of a call, as it lies folded in the machine, and what its parts cost."""

from __future__ import annotations

from html import escape

from dryerbench.core.errors import LegToLegError
from dryerbench.drawing.interactive_figure import show_bundle
from dryerbench.topics.call_to_close.sheet import CallCard


class TechSheetError(LegToLegError, TypeError):
    """A card that has no tech sheet."""


def show_tech_sheet(card: object, call: int = 1) -> None:
    """Show the tech sheet of a call: parts, ratings, ohms, what each wire joins, readings of a good dryer.

    Raises
    ------
    TechSheetError
        If ``card`` is not the card of lesson 10.
    CardError
        If the card has no such call.
    """
    if not isinstance(card, CallCard):
        raise TechSheetError("Give show_tech_sheet the card of lesson 10: show_tech_sheet(card, 1).")
    text = "\n".join(card.tech_sheet(call))
    show_bundle({"text/plain": text, "text/html": f"<pre tabindex='0' aria-label='Tech sheet'>{escape(text)}</pre>"})
