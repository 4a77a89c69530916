"""What a seat may ask of a sealed bench: an act by code, or a press on the page; anything else is nothing."""

from __future__ import annotations

import json
import math
from dataclasses import dataclass

from dryerbench.notebook.forms import LONGEST_TRAIL
from dryerbench.notebook.machine_desk import ALONE
from dryerbench.notebook.machine_scene import Look

_LONGEST_TEXT = 64
_LARGEST_NUMBER = 1e9
_TIPS = {"A", "B"}
_LOOK = {"at", "tips", "dial", "held", "jaw", "bead", "airflow"}


@dataclass(frozen=True)
class Asked:
    """What was asked: after how many acts, the act, its details; ``look`` is a press's, as plain data."""

    n: int
    act: str
    given: dict[str, object]
    look: dict[str, object] | None = None

    def data(self) -> dict[str, object]:
        """Return it as it is written: asked again with the same data, it is done once."""
        asked: dict[str, object] = {"act": self.act, "with": self.given}
        return asked if self.look is None else {**asked, "look": self.look}


def _no_number(_: str) -> object:
    raise ValueError


def read_object(body: bytes, keys: frozenset[str]) -> dict[str, object] | None:
    """Return the JSON object in ``body`` if it has exactly ``keys``; None for anything else."""
    try:
        found = json.loads(body.decode("utf-8"), parse_constant=_no_number)
    except (ValueError, RecursionError):
        return None
    return found if isinstance(found, dict) and set(found) == keys else None


def _plain(value: object) -> bool:
    if isinstance(value, str):
        return len(value) <= _LONGEST_TEXT
    if value is None or isinstance(value, bool):
        return value is None
    return isinstance(value, int | float) and math.isfinite(value) and abs(value) < _LARGEST_NUMBER


def _read(body: bytes, more: frozenset[str]) -> Asked | None:
    asked = read_object(body, frozenset({"n", "act", "with"}) | more)
    if asked is None:
        return None
    n, act, given, look = asked["n"], asked["act"], asked["with"], asked.get("look")
    if type(n) is not int or not 0 <= n <= LONGEST_TRAIL or not isinstance(act, str) or not isinstance(given, dict):
        return None
    plain = {key: value for key, value in given.items() if not (more and key == "alone" and isinstance(value, bool))}
    if len(act) > _LONGEST_TEXT or len(given) > 4 or not all(_plain(one) for one in (*plain, *plain.values())):
        return None
    if not more:
        return Asked(n, act, given)
    return Asked(n, act, given, look) if isinstance(look, dict) and _is_look(look) else None


def read_act(body: bytes) -> Asked | None:
    """Return the act in ``body``; None for anything else."""
    return _read(body, frozenset())


def read_press(body: bytes) -> Asked | None:
    """Return the press in ``body``, with where its page looks; None for anything else."""
    return _read(body, frozenset({"look"}))


def _is_look(look: dict[str, object]) -> bool:
    tips, held = look.get("tips"), look.get("held")
    if set(look) != _LOOK or not isinstance(tips, dict) or set(tips) != _TIPS:
        return False
    if not isinstance(look["airflow"], bool):
        return False
    words = [look["at"], look["dial"], look["jaw"], look["bead"], *(tip for tip in tips.values() if tip is not None)]
    if not all(isinstance(one, str) and len(one) <= _LONGEST_TEXT for one in words):
        return False
    return held is None or (type(held) is int and 0 <= held < LONGEST_TRAIL)


def look_of(data: dict[str, object] | None, spots: dict[str, str]) -> Look:
    """Return where a page looks by its own ``data``; a tip that is on none of ``spots`` is in the air."""
    found = Look()
    if data is None:
        return found
    tips, held, dial = data["tips"], data["held"], data["dial"]
    if isinstance(tips, dict):
        found.tips = {letter: tips[letter] if tips[letter] in spots else None for letter in found.tips}
    found.at = str(data["at"])
    found.dial = str(dial) if dial in ALONE else ""
    found.held = held if type(held) is int else None
    found.jaw, found.bead = str(data.get("jaw", "")), str(data.get("bead", ""))  # the desk drops what is no place
    found.airflow = data.get("airflow") is True
    return found
