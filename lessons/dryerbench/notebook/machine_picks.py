"""What can be picked on the wiring sheet of a practice bench, and what is said of it."""

from __future__ import annotations

from functools import lru_cache

from dryerbench.family.own_machine import OwnMachine
from dryerbench.family.settings import Setting
from dryerbench.machine_view.picking import MARK, symbol_words, terminals_of
from dryerbench.machine_view.side_view import spoken_view
from dryerbench.machine_view.wiring_sheet import wiring_sheet
from dryerbench.notebook.machine_names import MachineNames


@lru_cache(maxsize=16)
def _symbols(own: OwnMachine) -> tuple[str, ...]:
    """Return the symbols of a machine's wiring sheet in its order, drawn for that once and not at each press."""
    return tuple(wiring_sheet(own, Setting(), "off").symbols)


def symbol_marks(names: MachineNames) -> dict[str, str]:
    """Return the symbols of a machine's wiring sheet, each by the id of its mark, in the order of the sheet."""
    return {f"{MARK}{number}": symbol for number, symbol in enumerate(_symbols(names.own), start=1)}


def picked_words(names: MachineNames, symbol: str) -> str:
    """Return what is said when a symbol is picked: what it is, and where in the machine its terminals are marked."""
    terminals = terminals_of(names.own, symbol)
    there = [view for view, spots in names.spots.items() if any(names.terminal(spot) in terminals for spot in spots)]
    where = " and at the ".join(map(spoken_view, there))
    what = symbol_words(names.own, symbol)
    said = f"{what[0].upper()}{what[1:]}. "
    return said + (f"Look at the {where}: rings show its terminals." if there else "It has no terminal to look at.")
