"""The bench over a cohort: minutes of a question's work, the advised path's, and how far readings settled a fault."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from legtoleg.marking.bench_work import SETTLES
from legtoleg.marking.outcomes import Outcome


@dataclass(frozen=True)
class BenchNumbers:
    """A bench question over a cohort: minutes, the advised path's, and for a fault how many were named on what.

    ``named`` counts those who named a fault; of them ``shown`` had readings that settle it and named it rightly,
    ``thin`` named it rightly on too few, ``unread`` had read enough and named another.
    """

    people: int
    least: float
    median: float
    most: float
    advised: float | None
    named: int
    shown: int
    thin: int
    unread: int

    @property
    def settled(self) -> float | None:
        """The share of named faults with readings that settle them, 0 to 1; None where no fault was to name."""
        return (self.shown + self.unread) / self.named if self.named else None


def bench_numbers(outcomes: Sequence[Outcome]) -> BenchNumbers | None:
    """Return the numbers of one question's bench work; None if nobody's is known."""
    done = [(o, o.work) for o in outcomes if o.work is not None]
    if not done:
        return None
    minutes = [work.minutes for _, work in done]
    advised = [work.advised for _, work in done if work.advised is not None]
    named = [(o.points > 0, work.evidence == SETTLES) for o, work in done if work.evidence]
    return BenchNumbers(
        len(done),
        min(minutes),
        median(minutes),
        max(minutes),
        median(advised) if advised else None,
        len(named),
        named.count((True, True)),
        named.count((True, False)),
        named.count((False, True)),
    )
