"""Which lists of acts a panel has: a lesson shows the acts that it needs, a call or a test shows all.

The table ``bench-acts`` says on which list an act stands and which lessons have it.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from dryerbench.core.tables import table

MORE_LIST = "More"
"""The list of the acts that few lessons have."""


class Lists(NamedTuple):
    """The lists of a panel: the names of those that it has, and the acts on the last, *More*."""

    pages: tuple[str, ...]
    more: tuple[str, ...]


@lru_cache(maxsize=16)
def lists_of(lesson: str = "") -> Lists:
    """Return the lists of the panel in ``lesson``, such as ``05_path_to_case``; of no lesson: all."""
    number = lesson[:2]
    there = [row for row in table("bench-acts").rows if row["list"]]
    shown = [row for row in there if not number or not row["lessons"] or number in row.text("lessons").split()]
    pages = tuple(dict.fromkeys(row.text("list") for row in shown if row["list"] != MORE_LIST))
    return Lists(pages, tuple(row.text("act") for row in shown if row["list"] == MORE_LIST))


ALL = lists_of()
