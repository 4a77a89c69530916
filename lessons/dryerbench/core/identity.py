"""Whose machine this is: the apprentice's id, from the kit's mark or from whoever runs the notebook."""

from __future__ import annotations

import json
import os
import re
from dataclasses import dataclass
from pathlib import Path

from dryerbench.core.errors import KitError

MARK = "kit.json"
"""The file at the root of a kit that says whose it is."""

VARIABLE = "LEGTOLEG_APPRENTICE"
"""The environment variable by which the marker names the apprentice; it wins over a kit's mark."""

TRIES = "tries.json"
"""The file beside the mark that says of which lessons another card was dealt, and which; it comes with feedback."""

TRY_VARIABLE = "LEGTOLEG_TRY"
"""The environment variable by which the marker says which try is run; it wins over everything in a notebook."""

WORK = "kept_work"
"""The folder beside the mark with what was done on benches and answered in boxes, line by line as it happened."""

READY = "hand_in"
"""The folder beside the mark with the files that a lesson's button made to be handed in."""

OWN = (TRIES, "progress.json", "progress.json.new", "signed_off.json", "missed.json", "memory.jsonl", WORK, READY)
"""What a person's own work leaves beside the lessons: no kit is packed with it, and no copy of the lessons has it."""

MOST_TRIES = 99

PRACTICE = "practice"
"""The id of the practice machine, which is the same for everyone."""

_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,63}")


@dataclass(frozen=True)
class Kit:
    """Whose kit this is: an id, and whether it is only the practice machine."""

    apprentice: str

    @property
    def practice(self) -> bool:
        """Tell whether no kit was found, so that the practice machine is in use."""
        return self.apprentice == PRACTICE


def checked_id(apprentice: object) -> str:
    """Return ``apprentice`` if it can be an id: 1 to 64 letters, digits, dots, dashes, underlines.

    Raises
    ------
    KitError
        If it cannot.
    """
    if type(apprentice) is str and _ID.fullmatch(apprentice):
        return apprentice
    raise KitError(
        f"{str(apprentice)[:80]!r} cannot be an apprentice's id: use letters, digits, dots, dashes and underlines, "
        "at most 64, the first a letter or a digit."
    )


def _marked_id(mark: Path) -> str:
    try:
        content = json.loads(mark.read_text(encoding="utf-8-sig"))
        apprentice = content["apprentice"]
    except (OSError, ValueError, KeyError, TypeError):
        raise KitError(f"The file {mark.name} of this kit is damaged: unpack the kit again.") from None
    return checked_id(apprentice)


def _tries(folder: Path) -> dict[str, int]:
    """Return the tries named in ``folder``; what is missing or damaged counts as the first."""
    try:
        content = json.loads((folder / TRIES).read_text(encoding="utf-8-sig"))
    except (OSError, ValueError):
        return {}
    found = content.items() if isinstance(content, dict) else ()
    return {str(lesson): count for lesson, count in found if type(count) is int and 1 <= count <= MOST_TRIES}


def find_try(lesson: str, asked: int | None = None, start: Path | None = None) -> int:
    """Return for which time the card of ``lesson`` is dealt: by the marker, by ``asked``, by the kit's file, else 1.

    Raises
    ------
    KitError
        If ``asked`` is no number of a card.
    """
    if os.environ.get(VARIABLE):
        named = os.environ.get(TRY_VARIABLE, "1")
        return int(named) if named.isdecimal() and 1 <= int(named) <= MOST_TRIES else 1
    if asked is not None:
        if type(asked) is not int or not 1 <= asked <= MOST_TRIES:
            raise KitError(f"Cards are numbered from 1 to {MOST_TRIES}, like this: try_number=2.")
        return asked
    folder = (start or Path.cwd()).resolve()
    for place in (folder, *folder.parents):
        if (place / MARK).is_file() or (place / TRIES).is_file():
            return _tries(place).get(lesson, 1)
    return 1


def find_kit(start: Path | None = None) -> Kit:
    """Return the kit around the folder ``start`` (default: where Python runs); the practice kit if there is none.

    Raises
    ------
    KitError
        If a kit's mark is there but damaged.
    """
    named = os.environ.get(VARIABLE)
    if named:
        return Kit(checked_id(named))
    folder = (start or Path.cwd()).resolve()
    for place in (folder, *folder.parents):
        if (place / MARK).is_file():
            return Kit(_marked_id(place / MARK))
    return Kit(PRACTICE)
