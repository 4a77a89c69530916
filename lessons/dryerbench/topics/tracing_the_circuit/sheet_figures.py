"""The drawing of a sheet that one has not seen: the second dryer's wiring sheet, and its list of parts and wires."""

from __future__ import annotations

from html import escape

from dryerbench.core.errors import LegToLegError
from dryerbench.drawing.interactive_figure import show_bundle
from dryerbench.drawing.still_figure import show_still
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.own_machine import sheet_machine
from dryerbench.family.settings import Setting
from dryerbench.family.shelf import arrangement
from dryerbench.family.tech_sheet import sheet_lines
from dryerbench.machine_view.told_drawing import ToldDrawing
from dryerbench.machine_view.wiring_sheet import wiring_sheet
from dryerbench.topics.tracing_the_circuit.second_sheet import EXAMPLE
from dryerbench.topics.tracing_the_circuit.sheet import TraceCard, second_of


class NoSecondSheetError(LegToLegError, TypeError):
    """A card that has no second sheet."""


def sheet_figure(made: Arrangement) -> ToldDrawing:
    """Return the wiring sheet of ``made``, every contact drawn as it is with the dryer off."""
    drawn = wiring_sheet(sheet_machine(made), Setting(), "off").drawing
    return ToldDrawing(drawn, "Every contact is drawn as it is with the dryer off. The list below has the names.")


def show_second_sheet(card: object = None) -> None:
    """Show the sheet of the second dryer of ``card``, drawn and as a list; without a card, the lesson's example.

    Raises
    ------
    NoSecondSheetError
        If ``card`` is not the card of lesson 07.
    """
    if card is not None and not isinstance(card, TraceCard):
        raise NoSecondSheetError("Give show_second_sheet the card of lesson 07: show_second_sheet(card).")
    made = arrangement(EXAMPLE) if card is None else second_of(card)
    show_still(sheet_figure(made))
    lines = "\n".join(sheet_lines(made))
    show_bundle({"text/plain": lines, "text/html": f"<pre tabindex='0' aria-label='Tech sheet'>{escape(lines)}</pre>"})
