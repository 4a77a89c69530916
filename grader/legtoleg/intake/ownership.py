"""Owners: whose a handed-in notebook is and which lesson, from the kit's mark inside, then from its name."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from nbformat.notebooknode import NotebookNode

from dryerbench.registry import SHEETS
from legtoleg.core.outside_words import plain_words
from legtoleg.intake.inbox import ReceivedFile
from legtoleg.intake.name_matching import folded, named_in
from legtoleg.intake.notebook_repair import RepairedNotebook
from legtoleg.intake.roster import Person


@dataclass(frozen=True)
class Owner:
    """Whose it is; or, with ``doubt``, what to ask the instructor."""

    apprentice: str = ""
    doubt: str = ""


def lesson_of(rescued: RepairedNotebook, name: str, lessons: list[str]) -> str:
    """Return the lesson that a notebook is: by its cells, then by the kit's stamp, then by its name; empty if none."""
    asked: Counter[str] = Counter()
    names = set(_names(rescued.notebook))
    for lesson in lessons:
        asked[lesson] = len(names & {question.name for question in SHEETS[lesson].questions})
    best = asked.most_common(1)
    if best and best[0][1]:
        return best[0][0]
    if rescued.lesson in lessons:
        return rescued.lesson
    return next((lesson for lesson in lessons if lesson in folded(name)), "")


def _names(notebook: NotebookNode) -> list[str]:
    found = []
    for cell in notebook.cells:
        marks = cell.metadata.get("nbgrader")
        if isinstance(marks, dict) and isinstance(marks.get("grade_id"), str):
            found.append(marks["grade_id"])
        found.append(cell.id.removesuffix("-hand-in"))
        match = re.match(r"""\s*hand_in\(["'](\w+)["']""", cell.source)
        if match:
            found.append(match.group(1))
    return found


def owner_of(  # noqa: PLR0911 - each case its own line
    piece: ReceivedFile, rescued: RepairedNotebook, people: list[Person], said: str = "", lessons: Sequence[str] = ()
) -> Owner:
    """Return whose ``piece`` is. ``said`` is what the instructor said, which settles it.

    The names and numbers of ``lessons`` in its path are nobody's id.
    """
    if said:
        return Owner(said)
    marks = {mark for mark in (piece.kit_id, *rescued.claimed) if mark}
    known = {person.id for person in people}
    named = named_in(piece.path or piece.name, people, lessons)
    if len(marks) > 1:
        return Owner(doubt=f"the kits of {_both(marks)} are both in it")
    if marks:
        mark = next(iter(marks))
        if mark not in known:
            return Owner(doubt=f"it is labeled for “{plain_words(mark, 80)}”, who is not on the roster")
        if named and mark not in named:
            return Owner(doubt=f"the kit's label says {mark}, its name says {_both(named)}")
        return Owner(mark)
    if len(named) == 1:
        return Owner(next(iter(named)))
    return Owner(doubt=f"its name fits {_both(named)}" if named else "nothing in it or in its name says whose it is")


def _both(ids: set[str]) -> str:
    return " and ".join(sorted(plain_words(one, 80) for one in ids))
