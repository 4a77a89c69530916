"""When a call of the last lesson is closed: its own work at the bench is safe and has 80 % of its points."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import cache

from dryerbench.course.questions import BenchQuestion, FaultQuestion
from dryerbench.registry import SHEETS
from legtoleg.marking.outcomes import PASS_SHARE, Outcome

_CALL = re.compile(r"Call (\d+): (.+)")


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
