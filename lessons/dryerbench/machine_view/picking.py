"""A part that is picked in one view of a machine and marked in the other: its symbol on the sheet, its terminals.

For practice alone: in graded work it would tell which terminal is which.
"""

from __future__ import annotations

from collections.abc import Iterable

from dryerbench.family.own_machine import OwnMachine
from dryerbench.machine_view.wiring_sheet import DrawnSheet

_COIL = " coil "
MARK = "part-"
"""What the id of a symbol begins with; a number follows, in the order of the sheet."""


def terminals_of(own: OwnMachine, symbol: str) -> frozenset[str]:
    """Return the terminals of what a symbol of the sheet stands for: a part, or a coil between two of the box."""
    if _COIL in symbol:
        return frozenset(f"Box.{end}" for end in symbol.split(_COIL))
    return frozenset(own.arrangement.present(own.arrangement.by_name[symbol]))


def symbols_at(own: OwnMachine, symbols: Iterable[str], terminal: str) -> frozenset[str]:
    """Return the symbols, of those given, that have ``terminal``: a shared terminal has several."""
    return frozenset(one for one in symbols if terminal in terminals_of(own, one))


def symbol_words(own: OwnMachine, symbol: str) -> str:
    """Return what a symbol of the sheet stands for, in words."""
    return "coil" if _COIL in symbol else own.arrangement.by_name[symbol].kind.name


def mark_symbols(sheet: DrawnSheet, own: OwnMachine, picked: frozenset[str]) -> None:
    """Make each symbol of a sheet one that can be pressed; what is ``picked`` has the ring of what is chosen."""
    for number, (symbol, box) in enumerate(sheet.symbols.items(), start=1):
        spoken = f"{symbol_words(own, symbol)} on the wiring sheet"
        sheet.drawing.framed(f"{MARK}{number}", spoken, box, chosen=symbol in picked)
