"""Answer cells: what a running page knows of them, so that a broken or unrun cell never leaves an older answer.

When a cell that sets an answer is run, the older value is taken away first: if the cell then stops with an error, no
answer is left, as in a fresh kernel. A page cannot know of a cell that was changed and not run; a hand-in that is run
again without its answer cell says so.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterable, MutableMapping

from dryerbench.drawing.interactive_figure import MODE

__all__ = ["assigned", "switch_on", "was_run"]

_SET = re.compile(r"^[ \t]*([A-Za-z_]\w*)[ \t]*(?:=(?!=)|[:-]|(?=[\"'“”0-9]))(.*)$", re.MULTILINE)
"""A line that sets a name, or was meant to: with a colon, a dash or nothing in place of the equals sign."""
_CODE = re.compile(r"^[ \t]*[^#\s]", re.MULTILINE)
ANSWER_CELL = "-answer"
"""The end of the id of an answer cell, behind the question's name."""
_ON_SHELL = "_dryerbench_answers"


class _Watch:
    """The answers of the open lessons, and those whose cell ran since they were last handed in."""

    def __init__(self, namespace: MutableMapping[str, object]) -> None:
        self.namespace = namespace
        self.names: frozenset[str] = frozenset()
        self.ran: set[str] = set()

    def before(self, info: object) -> None:
        """Take away the older value of each answer that the cell about to run sets."""
        cell, place = str(getattr(info, "raw_cell", "")), str(getattr(info, "cell_id", ""))
        own = place.removesuffix(ANSWER_CELL) if place.endswith(ANSWER_CELL) else ""
        names = assigned(cell, self.names)
        if own in self.names and own not in names and _CODE.search(cell) and not re.search(rf"\b{own}\b", cell):
            names.append(own)  # its name is misspelled there
        for name in names:
            self.namespace.pop(name, None)
            self.ran.add(name)


def assigned(cell: str, names: Iterable[str]) -> list[str]:
    """Return which of ``names`` the text of a cell sets anew, not from their own older value."""
    wanted, found = set(names), []
    for match in _SET.finditer(cell):
        name, value = match[1], match[2]
        if name in wanted and name not in found and not re.search(rf"\b{name}\b", value):
            found.append(name)
    return found


def _watch() -> _Watch | None:
    from IPython import get_ipython

    shell = get_ipython()
    found = getattr(shell, _ON_SHELL, None)
    return found if isinstance(found, _Watch) else None


def switch_on(names: Iterable[str]) -> None:
    """Watch the answers ``names`` from now on; not where the page runs to be marked, nor outside a notebook."""
    from IPython import get_ipython

    shell = get_ipython()
    if shell is None or os.environ.get(MODE) == "words":
        return
    watch = _watch()
    if watch is None:
        watch = _Watch(shell.user_ns)
        setattr(shell, _ON_SHELL, watch)
        shell.events.register("pre_run_cell", watch.before)
    watch.names = frozenset(names)


def was_run(name: str) -> bool:
    """Tell whether the cell of the answer ``name`` ran since this was last asked; True where nobody watches."""
    watch = _watch()
    if watch is None or name not in watch.names:
        return True
    ran = name in watch.ran
    watch.ran.discard(name)
    return ran
