"""The running cell: which cell of a notebook asks for what is done now, if any does."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass


@dataclass(frozen=True)
class RunningCell:
    """A cell that runs: its id, empty where the page does not say it, and a mark of its text."""

    place: str
    text: str

    @property
    def key(self) -> str:
        """What tells this cell with this text from every other."""
        return f"{self.place}:{self.text}"


def running_cell() -> RunningCell | None:
    """Return the cell that runs; None for what a hand does on the page, and outside a notebook."""
    from IPython import get_ipython

    shell = get_ipython()
    parent = shell.get_parent() if hasattr(shell, "get_parent") else {}
    if not isinstance(parent, dict) or parent.get("header", {}).get("msg_type") != "execute_request":
        return None
    code = str(parent.get("content", {}).get("code", ""))
    place = parent.get("metadata", {}).get("cellId", "")
    return RunningCell(str(place or ""), hashlib.sha256(code.encode("utf-8")).hexdigest()[:12])
