"""The drawing of a cabinet that one has not seen: front, rear, and the page of the tech sheet about its covers."""

from __future__ import annotations

from html import escape

from dryerbench.bench.placement import placement_of
from dryerbench.bench.schoolroom import family_machine
from dryerbench.core.errors import LegToLegError
from dryerbench.course.bench_card import BenchCard, machine_of
from dryerbench.drawing.interactive_figure import show_bundle
from dryerbench.drawing.still_figure import show_still
from dryerbench.family.arrangement import Cover
from dryerbench.family.own_machine import OwnMachine, sheet_machine
from dryerbench.family.shelf import arrangement
from dryerbench.machine_view.covers import CABINET_BOX, covers_on_side, region
from dryerbench.machine_view.drawing import Drawing
from dryerbench.machine_view.scene import SIDES, Scene
from dryerbench.machine_view.told_drawing import ToldDrawing
from dryerbench.machine_view.whole_machine import machine_drawing
from dryerbench.topics.open_and_close.cabinets import EXAMPLE, cover_rows, fasteners

_SMALL = 90.0
"""Units up to which a cover is too narrow for its name."""
_NARROW = 130.0
"""Units up to which a cover may be one of two side by side."""
_TALL = 250.0
"""Units from which a front goes down to the floor: its name is on it where the left side has a plate too."""
_SIZE = 16.0
_HEADS = ("cover", "fasteners", "how it comes off", "what is behind it")


class NoCabinetError(LegToLegError, TypeError):
    """A card that has no second dryer."""


def side_figure(own: OwnMachine, side: str) -> ToldDrawing:
    """Return one side of a machine, plug out and closed, each cover with its name; in words, their fasteners too."""
    drawn = machine_drawing(own, Scene(side=side, plugged=False))
    there = covers_on_side(own, side)
    for cover in there:
        _name(drawn, own, cover)
    told = "; ".join(f"{cover.name}, {fasteners(cover)}" for cover in there)
    return ToldDrawing(drawn, f"Covers on this side: {told}." if told else "No cover comes off on this side.")


def _name(drawn: Drawing, own: OwnMachine, cover: Cover) -> None:
    """Write the name of a cover left of it; on it or under it where something else is there. Inside is no place yet."""
    box = region(own, cover)
    if box is None:
        return
    x, y = box.middle
    if box.w < _SMALL and box.x > CABINET_BOX.x:
        drawn.word(box.right - 20, box.bottom + 20, cover.name, _SIZE, "end", 700)
    elif _NARROW > box.w > _SMALL:
        drawn.word(x, y + 5, cover.name, _SIZE, "middle", 700)
    elif box.h > _TALL and any("side" in one.name.split() for one in own.covers):
        drawn.word(x, box.bottom - 34, cover.name, _SIZE, "middle", 700)
    else:
        drawn.word(box.x - 10, y + 5, cover.name, _SIZE, "end", 700)


def show_cabinet(card: object = None) -> None:
    """Show the second dryer of ``card`` from both sides, and its covers; without a card, the lesson's example.

    Raises
    ------
    NoCabinetError
        If ``card`` is not the card of lesson 09.
    """
    if card is None:
        own = sheet_machine(arrangement(EXAMPLE))
    elif isinstance(card, BenchCard) and hasattr(card, "second"):
        machine = machine_of(card, 2)
        own = OwnMachine(family_machine(machine), placement_of(machine))
    else:
        raise NoCabinetError("Give show_cabinet the card of lesson 09: show_cabinet(card).")
    for side in SIDES:
        show_still(side_figure(own, side))
    _show_covers(own)


def _show_covers(own: OwnMachine) -> None:
    head = f"The covers of the dryer {own.arrangement.name}, by its tech sheet (invented)"
    rows = cover_rows(own.placement)
    plain = "\n".join([head, *("  " + " | ".join(row) for row in (_HEADS, *rows))])
    cells = "".join(
        "<tr>"
        + "".join(
            f"<th scope='row' style='text-align:left'>{escape(cell)}</th>"
            if place == 0
            else f"<td style='text-align:left'>{escape(cell)}</td>"
            for place, cell in enumerate(row)
        )
        + "</tr>"
        for row in rows
    )
    titles = "".join(f"<th style='text-align:left'>{one}</th>" for one in _HEADS)
    caption = f"<caption style='text-align:left;caption-side:top'><b>{escape(head)}</b></caption>"
    table = f"<table>{caption}<thead><tr>{titles}</tr></thead><tbody>{cells}</tbody></table>"
    show_bundle({"text/plain": plain, "text/html": table})
