"""A hand-in on its way: what came, the notebook put right, of which card it is, and what is to be said about it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from nbformat.notebooknode import NotebookNode

from dryerbench.registry import sheet
from legtoleg.cohort.cell_restoring import Restorer
from legtoleg.cohort.marking_cache import MarkingCache
from legtoleg.cohort.newer_questions import newer_in
from legtoleg.core.try_ledger import TryLedger
from legtoleg.intake.notebook_repair import RepairedNotebook, repair
from legtoleg.intake.submissions import HandIn, HandInError
from legtoleg.sandbox.engine import Job

TryOf = Callable[[HandIn, str, RepairedNotebook], int]
"""Says of which try a hand-in is, from the digest of what came and the notebook in it."""


@dataclass
class PreparedHandIn:
    """What came, its ``digest``, the notebook put right, remarks for the instructor, and of which try it is."""

    hand_in: HandIn
    digest: str
    notebook: NotebookNode
    remarks: list[str]
    came_at: datetime | None
    try_number: int = 1

    def job(self) -> Job:
        """Return what is to be run of it."""
        cells = tuple(cell.source for cell in self.notebook.cells if cell.cell_type == "code")
        return Job(self.hand_in.apprentice, self.hand_in.lesson, cells, self.try_number)


def prepare(hand_in: HandIn, came: str, content: bytes, restorer: Restorer, try_of: TryOf) -> PreparedHandIn:
    """Return a hand-in put right, ready to be run; ``came`` is the digest of its ``content``.

    Raises
    ------
    HandInError
        If it is of another card, or too old.
    UnreadableNotebookError
        If it is no notebook.
    """
    rescued = repair(content)
    number = try_of(hand_in, came, rescued)
    restored = restorer.restore(rescued.notebook, hand_in.apprentice, hand_in.lesson)
    remarks = [*rescued.remarks, *_newer(hand_in, restored)]
    others = sorted(rescued.claimed - {hand_in.apprentice})
    if others:
        remarks.append(f"holds answers that were worked out in the kit of {', '.join(others)[:200]}")
    try:
        came_at = hand_in.timestamp()
    except HandInError as error:
        came_at = None
        remarks.append(f"came at an unknown time: {error}")
    return PreparedHandIn(hand_in, came, restored, remarks, came_at, number)


def _newer(hand_in: HandIn, restored: NotebookNode) -> list[str]:
    """Return what to say of questions that came into the course after the kit."""
    newer = set(newer_in(restored))
    titles = [f"“{one.title}”" for one in sheet(hand_in.lesson).questions if one.name in newer]
    if not titles:
        return []
    named = " and ".join(titles)
    new_kit = f"give out a new kit (legtoleg kit {hand_in.apprentice})"
    return [f"is of a kit that did not have {named} yet; the rest counts: {new_kit}"]


def try_of(cache: MarkingCache, tries: TryLedger, hand_in: HandIn, came: str, rescued: RepairedNotebook) -> int:
    """Return of which try a hand-in is: the one that it was marked by, else the card dealt last.

    Raises
    ------
    HandInError
        If it says itself that it was worked out on another card, or its letters were dealt in an older way.
    """
    who = (hand_in.apprentice, hand_in.lesson)
    line, number = cache.read(*who), tries.current(*who)
    if line is not None and line.handed_in == came:
        return line.try_number
    if rescued.old_letters:
        raise HandInError(
            "it was worked out with an older version of the course, which had its letters in another order; "
            f"give out a new kit (legtoleg kit {hand_in.apprentice}) and have it handed in again from there"
        )
    claimed = max(rescued.tries, default=number)
    if claimed != number:
        raise HandInError(
            f"it was worked out on card {claimed}, and card {number} is the one that counts; ask for a hand-in "
            f"from card {number} (tries.json beside the feedback goes into the folder of the kit)"
        )
    return number
