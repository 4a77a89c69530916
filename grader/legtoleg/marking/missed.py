"""What graded work missed, as what practices it: the drills of the same task, and whether safety is among it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from dryerbench.registry import DRILLS
from legtoleg.keys.answer_key import references
from legtoleg.keys.reference import Reference
from legtoleg.marking.marking import OPEN
from legtoleg.marking.outcomes import Outcome


@dataclass(frozen=True)
class Missed:
    """The names of the drills, sorted, and whether a question of safety was missed; it says no letter and no value."""

    drills: tuple[str, ...] = ()
    safety: bool = False


def missed(lesson: str, outcomes: Iterable[Outcome]) -> Missed:
    """Return what ``outcomes`` of ``lesson`` missed; a question without an answer is not missed, it is open."""
    lost = [one for one in outcomes if not one.full and one.note not in OPEN]
    tasks = {one.question: one.task_name for one in references(lesson) if isinstance(one, Reference)}
    wanted = {tasks[one.question] for one in lost if one.question in tasks}
    drills = sorted(name for name, drill in DRILLS.items() if drill.task in wanted)
    return Missed(tuple(drills), any(one.safety for one in lost))
