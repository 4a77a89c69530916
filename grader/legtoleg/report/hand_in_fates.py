"""Where hand-ins without marks are: those that came and were not marked, and those that wait for the instructor."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field

from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.marking_cache import MarkedLine
from legtoleg.cohort.newer_questions import left_as_they_are
from legtoleg.cohort.not_graded import ASK_AGAIN, Refusals
from legtoleg.collecting.arrivals import Arrivals
from legtoleg.core.outside_words import plain_words
from legtoleg.intake.submissions import HandIn, HandInError, digest, find_hand_ins

Who = tuple[str, str]
"""An apprentice's id and a lesson."""


NEW = "It came after the last legtoleg mark. Run legtoleg mark."
"""What is said of a hand-in that only waits for the next marking."""
_UNREAD = "It was graded, but its marks cannot be read. Run legtoleg mark --lesson {lesson} --again."
_OTHER_VERSION = (
    "This cohort was set up with another version of the lesson. Grade it with that version of the course, or set up a "
    "new cohort."
)


@dataclass(frozen=True)
class Fates:
    """What came and is not marked, what waits for a person (why, by id and lesson), and files that are nobody's yet."""

    unmarked: Mapping[Who, str] = field(default_factory=dict)
    """Why each is not marked and what to do, in whole sentences."""
    waiting: Mapping[Who, str] = field(default_factory=dict)
    nobodys: int = 0

    @property
    def new(self) -> int:
        """How many hand-ins only wait for the next marking."""
        return sum(why == NEW for why in self.unmarked.values())

    def why(self, apprentice: str, lesson: str) -> str:
        """Return why somebody's lesson waits or is not marked, and what to do; empty if it is neither."""
        who = (apprentice, lesson)
        return self.waiting.get(who, "") or self.unmarked.get(who, "")

    @property
    def refused(self) -> dict[Who, str]:
        """The hand-ins that another marking alone will not help, and why."""
        return {who: why for who, why in self.unmarked.items() if why != NEW}


def _sentence(why: str) -> str:
    """Return a reason as marking says it (``it is empty; ask again``) as whole sentences."""
    parts = [part.strip() for part in plain_words(why).rstrip(".").split("; ")]
    return " ".join(f"{part[:1].upper()}{part[1:]}." for part in parts if part)


def _why(one: HandIn, content: str, line: MarkedLine | None, refusals: Refusals, older: Collection[str]) -> str:
    """Return why a hand-in with the digest ``content`` has no marks that can be read, and what to do."""
    if line is not None and line.handed_in == content:
        return _UNREAD.format(lesson=one.lesson)
    if one.lesson in older:
        return _OTHER_VERSION
    why = refusals.why(one.apprentice, one.lesson, content)
    return _sentence(why) if why else NEW


def fates_of(cohort: Cohort, lines: Mapping[Who, MarkedLine], read: Collection[Who]) -> tuple[Fates, list[str]]:
    """Return the fates in ``cohort``, and what is odd in its folders, in words.

    ``lines`` says what was marked, ``read`` of which the marks could be read.
    """
    hand_ins, odd = find_hand_ins(cohort.folder / "submitted", cohort.lessons())
    refusals, older = Refusals(cohort.folder), left_as_they_are(cohort, hand_ins)
    unmarked: dict[Who, str] = {}
    for one in hand_ins:
        who = (one.apprentice, one.lesson)
        try:
            content = digest(one.content())
        except HandInError as error:
            odd.append(f"{one.words}: the hand-in cannot be opened: {error}.")
            unmarked[who] = _sentence(f"{error}; {ASK_AGAIN}")
            continue
        line = lines.get(who)
        if who not in read or line is None or line.handed_in != content:
            unmarked[who] = _why(one, content, line, refusals, older)
    waiting: dict[Who, str] = {}
    nobodys = 0
    for came in Arrivals(cohort.folder).open():
        if came.whose:
            waiting[came.whose, came.lesson] = plain_words(f"{came.file} {came.what_happened}")
        else:
            nobodys += 1
    return Fates(unmarked, waiting, nobodys), odd
