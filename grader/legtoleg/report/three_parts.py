"""The three parts of being sent out: every lesson signed off, three calls closed, one real machine done under an eye.

``Witnesses`` is where the record of who was seen comes in: a function from the cohort's folder to words by id.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from dryerbench.course.questions import BenchQuestion, FaultQuestion
from dryerbench.registry import SHEETS
from legtoleg.marking.outcomes import PASS_SHARE, Outcome

Witnesses = Callable[[Path], Mapping[str, str]]
"""Returns who was seen doing the job on a real machine, by id: by whom and when, in words that may stand on a page."""

LESSONS, CALLS, WITNESS = "lessons", "calls", "real machine"
_CALL = re.compile(r"Call (\d+): (.+)")


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


@cache
def calls() -> dict[str, tuple[str, tuple[str, ...]]]:
    """Return the calls to close, each as ``call 2``: its lesson, and the names of its questions worked on the bench."""
    found: dict[str, tuple[str, tuple[str, ...]]] = {}
    for lesson, paper in SHEETS.items():
        for question in paper.questions:
            said = _CALL.match(question.title)
            if said and isinstance(question, BenchQuestion | FaultQuestion):
                name = f"call {said.group(1)}"
                found[name] = (lesson, (*found.get(name, (lesson, ()))[1], question.name))
    return found


def closed(outcomes: Mapping[str, Sequence[Outcome]]) -> dict[str, bool]:
    """Return of each call whether it is closed: its work at the bench is safe and has 80 % of its points.

    ``outcomes`` has those of one person by lesson.
    """
    found = {}
    for name, (lesson, names) in calls().items():
        work = [one for one in outcomes.get(lesson, ()) if one.question in names]
        safe = len(work) == len(names) and all(one.safety in ("", "clear") for one in work)
        points = sum(one.points for one in work)
        found[name] = safe and points >= PASS_SHARE * sum(one.max_points for one in work)
    return found


def parts(signed: int, lessons: int, outcomes: Mapping[str, Sequence[Outcome]], seen: str) -> Parts:
    """Return the three parts of one person: ``signed`` of so many ``lessons``, ``seen`` in words, empty for not yet."""
    found = closed(outcomes)
    left = [name for name, done in found.items() if not done]
    return Parts(
        Part(LESSONS, signed, lessons, f"{signed} of {lessons} lessons signed off"),
        Part(
            CALLS,
            len(found) - len(left),
            len(found),
            f"{', '.join(left)} not closed" if left else f"{len(found)} calls closed",
        ),
        Part(WITNESS, int(bool(seen)), 1, f"seen {seen}" if seen else "not yet seen on a real machine"),
    )
