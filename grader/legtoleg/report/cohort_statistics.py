"""A cohort in numbers: what the report shows of each lesson and each person, worked out from the marks."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime

import pandas as pd

from dryerbench.course.questions import AnyQuestion
from dryerbench.registry import SLIPS, sheet
from legtoleg.cohort.marks import Mark
from legtoleg.core.outside_words import plain_words
from legtoleg.intake.roster import Person
from legtoleg.marking.outcomes import Outcome, signed_off
from legtoleg.report.bench_statistics import BenchNumbers, bench_numbers
from legtoleg.report.hand_in_fates import Fates, Who
from legtoleg.report.integrity_facts import Fact
from legtoleg.report.item_analysis import FEW, ItemStatistics, Shares, cronbach_alpha, items, kr20
from legtoleg.report.supervised_calls import CallsTests
from legtoleg.report.three_parts import Parts, parts

SIGNED, HELD, NOT_YET, MISSING = "signed off", "held for safety", "not yet", "nothing came"
CAME, WAITING = "came, not graded", "waiting for you"
READY, OUT = "ready except for the witness", "can be sent out"
"""Where somebody stands in a lesson; the last two and some of the others, over all of them."""
STRANGER = "not on the roster"


def state_of(outcomes: list[Outcome]) -> str:
    """Return where somebody stands in a lesson."""
    if not outcomes:
        return MISSING
    if signed_off(outcomes):
        return SIGNED
    return HELD if any(outcome.safety == "held" for outcome in outcomes) else NOT_YET


@dataclass(frozen=True)
class QuestionNumbers:
    """One question over a cohort: its analysis, and what went wrong, most frequent first (note and times).

    ``bench`` is how it was worked there; None for a question without bench, or marks from before that was kept.
    """

    question: AnyQuestion
    item: ItemStatistics
    wrong: list[tuple[str, int]]
    bench: BenchNumbers | None = None


@dataclass(frozen=True)
class LessonNumbers:
    """One lesson over a cohort. ``alpha`` is its reliability; ``few``: too few people to lean on these numbers."""

    lesson: str
    title: str
    people: dict[str, list[Outcome]]
    questions: list[QuestionNumbers]
    alpha: float | None
    kr20: float | None
    slips: list[tuple[str, int]]

    @property
    def few(self) -> bool:
        """Tell whether the cohort is too small for its numbers to be steady."""
        return len(self.people) < FEW


@dataclass(frozen=True)
class CohortNumbers:
    """A cohort: people by id, lessons in order, what is late (days by id and lesson), and remarks for a person."""

    people: dict[str, Person]
    lessons: list[LessonNumbers]
    late: dict[Who, float] = field(default_factory=dict)
    remarks: list[str] = field(default_factory=list)
    tries: dict[Who, int] = field(default_factory=dict)
    """Which card the marks are of, by id and lesson."""
    dealt: dict[Who, int] = field(default_factory=dict)
    """Which card was dealt last, where it is not the first."""
    fates: Fates = field(default_factory=Fates)
    away: frozenset[str] = frozenset()
    """The ids of those who have left, or are not on the roster."""
    seen: Mapping[str, str] = field(default_factory=dict)
    """Who was seen at a real machine, by id: by whom and when, in words."""
    tests: CallsTests = field(default_factory=CallsTests)
    """The last supervised test of each person, and how it counts."""
    facts: list[Fact] = field(default_factory=list)
    """What is unlikely by chance, for the instructor alone."""
    about: list[tuple[str, str]] = field(default_factory=list)
    """Which versions of the course and of Python made this, each as what it is of and the version."""
    troubles: list[str] = field(default_factory=list)
    """What could not be read, each in one line."""
    isolated: Mapping[Who, bool | None] = field(default_factory=dict)
    """Whether a marked notebook was shut in while it ran, by id and lesson; None if its marks do not say."""

    @property
    def here(self) -> list[str]:
        """The ids of those who are here."""
        return [who for who in self.people if who not in self.away]

    def name(self, who: str) -> str:
        """Return the name of somebody; their id if nobody knows it."""
        return self.people[who].name if who in self.people else who

    def state(self, who: str, numbers: LessonNumbers) -> str:
        """Return where ``who`` stands in a lesson; what is signed off stays so, whatever came after it."""
        marked = state_of(numbers.people.get(who, []))
        if marked != SIGNED and (who, numbers.lesson) in self.fates.waiting:
            return WAITING
        return CAME if marked != SIGNED and (who, numbers.lesson) in self.fates.unmarked else marked

    def count(self, state: str, numbers: LessonNumbers) -> int:
        """Return how many of those who are here stand so in a lesson."""
        return sum(self.state(who, numbers) == state for who in self.here)

    def outcomes(self, who: str) -> dict[str, list[Outcome]]:
        """Return what somebody's questions earned, by lesson."""
        return {one.lesson: one.people[who] for one in self.lessons if who in one.people}

    def parts(self, who: str) -> Parts:
        """Return what somebody has of the three parts of being sent out."""
        signed = sum(self.state(who, lesson) == SIGNED for lesson in self.lessons)
        tests, seen = self.tests, self.seen.get(who, "")
        return parts(signed, len(self.lessons), self.outcomes(who), seen, tests.last.get(who), tests.counts)

    def standing(self, who: str) -> str:
        """Return where somebody stands over all lessons: the state that needs the instructor most comes first."""
        states = {self.state(who, lesson) for lesson in self.lessons}
        for state in (HELD, WAITING, CAME):
            if state in states:
                return state
        if any(one == who for one, _ in self.fates.waiting):
            return WAITING
        found = self.parts(who)
        if not found.missing:
            return OUT
        if found.missing == [found.witness]:
            return READY
        return MISSING if states <= {MISSING} else NOT_YET


def _wrong(outcomes: Sequence[Outcome]) -> list[tuple[str, int]]:
    return Counter(o.note for o in outcomes if not o.full).most_common()


def lesson_numbers(lesson: str, people: dict[str, list[Outcome]]) -> LessonNumbers:
    """Return the numbers of ``lesson``; ``people`` has the outcomes of each id.

    A question that nobody's marks have is left out, as is what the lesson does not ask (any more).
    """
    paper = sheet(lesson)
    rows = [{outcome.question: outcome for outcome in row} for row in people.values()]
    columns = [
        (question, [row[question.name] for row in rows if question.name in row])
        for question in paper.questions
        if any(question.name in row for row in rows)
    ]
    shares: Shares = pd.DataFrame(
        [[_share(row.get(question.name)) for question, _ in columns] for row in rows],
        columns=range(len(columns)), dtype=float,
    )  # fmt: skip
    slips: Counter[str] = Counter()
    for outcome in (outcome for row in people.values() for outcome in row):
        slips.update(code for code in outcome.note.split("+") if code in SLIPS)
    return LessonNumbers(
        lesson,
        paper.title,
        people,
        [
            QuestionNumbers(question, item, _wrong(column), bench_numbers(column))
            for (question, column), item in zip(columns, items(shares) if columns else [], strict=True)
        ],
        cronbach_alpha(shares),
        kr20((shares == 1.0).astype(float)),
        slips.most_common(),
    )


def _share(outcome: Outcome | None) -> float:
    return outcome.points / outcome.max_points if outcome is not None and outcome.max_points else float("nan")


def other_questions(lesson: str, people: Mapping[str, Sequence[Outcome]]) -> list[str]:
    """Return, in words, whose marks have other questions than ``lesson`` has now; nothing if all fit."""
    asked = {question.name: question.title for question in sheet(lesson).questions}
    kinds: dict[tuple[tuple[str, ...], tuple[str, ...]], list[str]] = defaultdict(list)
    for who, row in people.items():
        marked = {outcome.question for outcome in row}
        lacks, more = tuple(name for name in asked if name not in marked), tuple(sorted(marked - set(asked)))
        if lacks or more:
            kinds[lacks, more].append(who)
    said = []
    for (lacks, more), those in kinds.items():
        what = [f"lack {_listed([asked[name] for name in lacks])}"] if lacks else []
        what += [f"have {_listed(more)}, which this version does not ask"] if more else []
        said.append(
            f"{lesson}: the grades of {_listed(those)} are of another version of the lesson: they "
            f"{' and '.join(what)}. "
            f"They count as they were graded. If the cohort was set up with this version, legtoleg mark --lesson "
            f"{int(lesson[:2])} --again COHORT grades them by it."
        )
    return said


def _listed(names: Sequence[str], most: int = 4) -> str:
    shown = ", ".join(f"“{plain_words(name, 60)}”" for name in names[:most])
    return shown if len(names) <= most else f"{shown} and {len(names) - most} more"


def cohort_numbers(
    marks: Iterable[Mark],
    people: Iterable[Person] = (),
    lessons: Iterable[str] = (),
    *,
    late: Mapping[Who, float] | None = None,
    today: date | None = None,
) -> CohortNumbers:
    """Return the numbers of a cohort from its marks: of ``lessons``, marked or not, and of others that are marked.

    ``late`` is in seconds by id and lesson; without ``people``, nobody is a stranger.
    """
    by_lesson: dict[str, dict[str, list[Outcome]]] = {lesson: defaultdict(list) for lesson in lessons}
    tries: dict[Who, int] = {}
    isolated: dict[Who, bool | None] = {}
    for mark in marks:
        by_lesson.setdefault(mark.lesson, defaultdict(list))[mark.apprentice].append(mark.outcome)
        tries[mark.apprentice, mark.lesson] = mark.try_number
        isolated[mark.apprentice, mark.lesson] = mark.isolated
    roster = {person.id: person for person in people}
    marked = {who for found in by_lesson.values() for who in found}
    strangers = {who: Person(who, STRANGER if roster else who) for who in marked - set(roster)}
    day = today or datetime.now().astimezone().date()
    gone = {who for who, person in roster.items() if person.gone(day)} | (set(strangers) if roster else set())
    by_id = dict(sorted((roster | strangers).items()))
    away = frozenset(gone)
    return CohortNumbers(
        by_id,
        [lesson_numbers(lesson, dict(sorted(found.items()))) for lesson, found in sorted(by_lesson.items())],
        {key: seconds / 86_400 for key, seconds in (late or {}).items() if seconds > 0},
        tries=tries,
        isolated=isolated,
        away=away,
        troubles=[line for lesson, found in sorted(by_lesson.items()) for line in other_questions(lesson, found)],
    )
