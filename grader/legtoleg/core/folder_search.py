"""The folder that was meant, when a command is given the one above it or one inside it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from dryerbench.core.errors import LegToLegError


def marked_folder(folder: Path, mark: str, kind: str, make: str, error: Callable[[str], LegToLegError]) -> Path:
    """Return ``folder`` if the file ``mark`` is in it, which every folder of that ``kind`` has.

    Raises
    ------
    LegToLegError
        An ``error``, if it is not there: it names the folder that was probably meant, or how to ``make`` one.
    """
    try:
        if (folder / mark).is_file():
            return folder
        inside = sorted(path.parent for path in folder.glob(f"*/{mark}"))
    except (OSError, ValueError) as trouble:
        reason = getattr(trouble, "strerror", "") or str(trouble)
        raise error(f"{str(folder)[:200]} cannot be opened: {reason}.") from None
    around = [path for path in folder.resolve().parents if (path / mark).is_file()]
    if len(inside) == 1:
        hint = f"{inside[0]}, inside it, is one: give that."
    elif around:
        hint = f"It lies inside one: give {around[0]}."
    elif inside:
        hint = f"Inside it are: {', '.join(path.name for path in inside[:10])}. Give one of them."
    else:
        hint = f"Make one with “{make}”."
    raise error(f"{str(folder)[:200]} is not a {kind}'s folder. {hint}")
