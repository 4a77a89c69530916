"""Where hand-ins without marks are: those that came and were not marked, and those that wait for the instructor."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field

from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.marking_cache import MarkedLine
from legtoleg.collecting.arrivals import Arrivals
from legtoleg.core.outside_words import plain_words
from legtoleg.intake.submissions import HandInError, digest, find_hand_ins

Who = tuple[str, str]
"""An apprentice's id and a lesson."""


@dataclass(frozen=True)
class Fates:
    """What came and is not marked, what waits for a person (why, by id and lesson), and files that are nobody's yet."""

    unmarked: frozenset[Who] = frozenset()
    waiting: Mapping[Who, str] = field(default_factory=dict)
    nobodys: int = 0


def fates_of(cohort: Cohort, lines: Mapping[Who, MarkedLine], read: Collection[Who]) -> tuple[Fates, list[str]]:
    """Return the fates in ``cohort``, and what is odd in its folders, in words.

    ``lines`` says what was marked, ``read`` of which the marks could be read.
    """
    hand_ins, odd = find_hand_ins(cohort.folder / "submitted", cohort.lessons())
    unmarked = set()
    for one in hand_ins:
        who = (one.apprentice, one.lesson)
        try:
            content = digest(one.content())
        except HandInError as error:
            odd.append(f"{one.words}: the hand-in cannot be opened: {error}.")
            content = ""
        if who not in read or who not in lines or lines[who].handed_in != content:
            unmarked.add(who)
    waiting: dict[Who, str] = {}
    nobodys = 0
    for came in Arrivals(cohort.folder).open():
        if came.whose:
            waiting[came.whose, came.lesson] = plain_words(f"{came.file} {came.what_happened}")
        else:
            nobodys += 1
    return Fates(frozenset(unmarked), waiting, nobodys), odd
