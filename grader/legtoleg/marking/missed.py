"""What graded work missed, as what practices it: the drills of the same task, and the recall questions of its ideas."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from dryerbench.recall.cards import benches, leads
from dryerbench.registry import DRILLS, sheet
from legtoleg.keys.answer_key import references
from legtoleg.keys.reference import Reference
from legtoleg.marking.marking import OPEN
from legtoleg.marking.outcomes import Outcome


@dataclass(frozen=True)
class Missed:
    """The names of the drills and of the recall questions, sorted; whether a question of safety was missed.

    It says no letter and no value.
    """

    drills: tuple[str, ...] = ()
    safety: bool = False
    cards: tuple[str, ...] = ()
    benches: tuple[str, ...] = ()
    """The headings of the lesson under which there is a bench to practice what was missed at one."""


def practicing(lesson: str) -> dict[str, frozenset[str]]:
    """Return for each question of ``lesson`` the names of what practices it: drills of its task, and its leads."""
    tasks = {one.question: one.task_name for one in references(lesson) if isinstance(one, Reference)}
    by_task = {
        question: {name for name, drill in DRILLS.items() if drill.task == task} for question, task in tasks.items()
    }
    names = [one.name for one in sheet(lesson).questions]
    return {name: frozenset(by_task.get(name, set()).union(leads().get(name, ()))) for name in names}


def missed(lesson: str, outcomes: Iterable[Outcome]) -> Missed:
    """Return what ``outcomes`` of ``lesson`` missed; a question without an answer is not missed, it is open."""
    lost = [one for one in outcomes if not one.full and one.note not in OPEN]
    practices = practicing(lesson)
    wanted = sorted({name for one in lost for name in practices.get(one.question, ())})
    return Missed(
        tuple(name for name in wanted if name in DRILLS),
        any(one.safety for one in lost),
        tuple(name for name in wanted if name not in DRILLS),
        tuple(dict.fromkeys(benches()[one.question] for one in lost if one.question in benches())),
    )
