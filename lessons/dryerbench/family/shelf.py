"""The machines on the shelf: one text file an arrangement, in the folder ``machines``."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from dryerbench.core.errors import LegToLegError
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.arrangement_file import read_arrangement

FOLDER = Path(__file__).with_name("machines")


class UnknownMachineError(LegToLegError, LookupError):
    """A machine that is not on the shelf; the text lists those that are."""


@cache
def machine_names() -> tuple[str, ...]:
    """Return the names of the machines on the shelf, as a command takes them, by the alphabet."""
    return tuple(sorted(path.stem for path in FOLDER.glob("*.txt")))


@cache
def arrangement(name: str) -> Arrangement:
    """Return the arrangement ``name``, such as ``cellar``.

    Raises
    ------
    UnknownMachineError
        For a machine that is not on the shelf.
    FamilyFileError
        If its file has a line that cannot be right.
    """
    if name not in machine_names():
        raise UnknownMachineError(f"There is no dryer '{name}'. The dryers are: {', '.join(machine_names())}.")
    path = FOLDER / f"{name}.txt"
    return read_arrangement(path.name, path.read_text(encoding="utf-8"))
