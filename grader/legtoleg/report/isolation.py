"""Isolation: which marked notebooks were shut in while they ran, and what it means where they were not."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field

from legtoleg.report.hand_in_fates import Who

_MOST = 8
"""Names in one line; the table of answers has them all."""


@dataclass(frozen=True)
class Runs:
    """How many marked notebooks there are, of how many nothing is known, and by lesson whose were not shut in."""

    marked: int = 0
    unknown: int = 0
    open: int = 0
    lines: list[str] = field(default_factory=list)

    @property
    def sure(self) -> bool:
        """Tell whether every marked notebook was shut in."""
        return not self.open and not self.unknown


def runs_of(isolated: Mapping[Who, bool | None], names: Mapping[str, str]) -> Runs:
    """Return how the notebooks ran, from what the marks say by id and lesson; ``names`` has the name of each id."""
    marked: dict[str, int] = defaultdict(int)
    whose: dict[str, list[str]] = defaultdict(list)
    for (who, lesson), shut_in in sorted(isolated.items()):
        marked[lesson] += 1
        if shut_in is False:
            whose[lesson].append(names.get(who, who))
    lines = [f"{lesson[:2]}: {_listed(whose[lesson], marked[lesson])}" for lesson in sorted(whose)]
    unknown = sum(shut_in is None for shut_in in isolated.values())
    return Runs(len(isolated), unknown, sum(map(len, whose.values())), lines)


def _listed(names: list[str], marked: int) -> str:
    if len(names) == marked and marked > 1:
        return f"all {marked}"
    more = len(names) - _MOST
    return ", ".join(names[:_MOST]) + (f" and {more} more" if more > 0 else "")
