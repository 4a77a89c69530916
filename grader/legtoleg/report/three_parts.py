"""The three parts of being sent out: every lesson signed off, three calls closed, one real machine done under an eye.

``Witnesses`` is where the record of who was seen comes in: a function from the cohort's folder to words by id.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from legtoleg.marking.outcomes import Outcome
from legtoleg.report.call_closing import closed
from legtoleg.report.supervised_calls import CallsTest, Counts

Witnesses = Callable[[Path], Mapping[str, str]]
"""Returns who was seen doing the job on a real machine, by id: by whom and when, in words that may stand on a page."""

LESSONS, CALLS, WITNESS = "lessons", "calls", "real dryer"


def nobody_seen(_: Path) -> Mapping[str, str]:
    """Return that nobody was seen at a real machine: what holds for a cohort without such a record."""
    return {}


@dataclass(frozen=True)
class Part:
    """One of the three parts: how much of it is done, of how much, and in words what is done or missing."""

    name: str
    done: int
    of: int
    words: str

    @property
    def whole(self) -> bool:
        """Tell whether nothing of it is missing."""
        return 0 < self.of <= self.done


@dataclass(frozen=True)
class Parts:
    """What one person has of the three parts."""

    lessons: Part
    calls: Part
    witness: Part

    @property
    def all(self) -> tuple[Part, Part, Part]:
        """The three, in the order in which they are done."""
        return self.lessons, self.calls, self.witness

    @property
    def missing(self) -> list[Part]:
        """Those that are not whole."""
        return [part for part in self.all if not part.whole]


def _calls(outcomes: Mapping[str, Sequence[Outcome]], tested: CallsTest | None, counts: Counts) -> Part:
    """Return how many calls are closed, by the page or by the last supervised test, as the shop decides."""
    page = closed(outcomes)
    if counts is Counts.NOT:
        tested = None
    if tested is not None and tested.passed:
        return Part(CALLS, len(page), len(page), f"{len(page)} calls closed in the supervised test of {tested.day}")
    if tested is not None and (tested.unsafe or counts is Counts.ALONE):
        why = "something unsafe was done" if tested.unsafe else f"{_named(tested.closed)} not closed"
        done = sum(tested.closed.values())
        return Part(CALLS, done, len(page), f"in the supervised test of {tested.day} {why}")
    if counts is Counts.ALONE:
        return Part(CALLS, 0, len(page), "no supervised test of the three calls yet")
    left = _named(page)
    return Part(CALLS, sum(page.values()), len(page), f"{left} not closed" if left else f"{len(page)} calls closed")


def _named(found: Mapping[str, bool]) -> str:
    return ", ".join(name for name, done in found.items() if not done)


def parts(
    signed: int,
    lessons: int,
    outcomes: Mapping[str, Sequence[Outcome]],
    seen: str,
    tested: CallsTest | None = None,
    counts: Counts = Counts.TOO,
) -> Parts:
    """Return the three parts of one person: ``signed`` of so many ``lessons``, ``seen`` in words, empty for not yet.

    ``tested`` is the person's last supervised test of the three calls, which ``counts`` as the shop decides.
    """
    return Parts(
        Part(LESSONS, signed, lessons, f"{signed} of {lessons} lessons signed off"),
        _calls(outcomes, tested, counts),
        Part(WITNESS, int(bool(seen)), 1, f"seen {seen}" if seen else "not yet seen on a real dryer"),
    )
