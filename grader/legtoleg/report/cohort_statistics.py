"""A cohort in numbers: what the report shows of each lesson and each person, worked out from the marks."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import pandas as pd

from dryerbench.answers.tolerance import figures_band
from dryerbench.course.questions import AnyQuestion, Question
from dryerbench.registry import SLIPS, sheet
from legtoleg.cohort.marks import Mark
from legtoleg.keys.answer_key import worked
from legtoleg.marking.outcomes import Outcome, signed_off
from legtoleg.report.bench_statistics import BenchNumbers, bench_numbers
from legtoleg.report.integrity_facts import Fact
from legtoleg.report.item_analysis import FEW, ItemStatistics, Shares, cronbach_alpha, items, kr20

SIGNED, HELD, NOT_YET, MISSING = "signed off", "held for safety", "not yet", "missing"
_FITTING = 3
"""From so many wrong answers that fit one other machine it is worth a talk; fewer happen by chance."""


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
    fits: dict[str, tuple[str, int]]
    """Who has wrong numbers that fit somebody else's machine: whose, and how many."""

    @property
    def few(self) -> bool:
        """Tell whether the cohort is too small for its numbers to be steady."""
        return len(self.people) < FEW

    def count(self, state: str) -> int:
        """Return how many people stand so."""
        return sum(state_of(outcomes) == state for outcomes in self.people.values())


@dataclass(frozen=True)
class CohortNumbers:
    """A cohort: names by id, lessons in order, what is late (days by id and lesson), and remarks for a person."""

    names: dict[str, str]
    lessons: list[LessonNumbers]
    late: dict[tuple[str, str], float] = field(default_factory=dict)
    remarks: list[str] = field(default_factory=list)
    tries: dict[tuple[str, str], int] = field(default_factory=dict)
    """Which card the marks are of, by id and lesson."""
    facts: list[Fact] = field(default_factory=list)
    """What is unlikely by chance, for the instructor alone."""
    about: list[tuple[str, str]] = field(default_factory=list)
    """Which versions of the course and of Python made this, each as what it is of and the version."""

    def state(self, who: str, numbers: LessonNumbers) -> str:
        """Return where ``who`` stands in a lesson."""
        return state_of(numbers.people.get(who, []))


def _shares(outcomes: list[list[Outcome]]) -> Shares:
    return pd.DataFrame([[o.points / o.max_points if o.max_points else float("nan") for o in row] for row in outcomes])


def _wrong(outcomes: Sequence[Outcome]) -> list[tuple[str, int]]:
    return Counter(o.note for o in outcomes if not o.full).most_common()


def lesson_numbers(
    lesson: str, people: dict[str, list[Outcome]], tries: Mapping[str, int] | None = None
) -> LessonNumbers:
    """Return the numbers of ``lesson``; ``people`` has the outcomes of each id in the order of the lesson.

    ``tries`` says for whom the card was dealt more than once, and for which time.
    """
    paper = sheet(lesson)
    rows = list(people.values())
    shares = _shares(rows)
    analysed = items(shares)
    slips: Counter[str] = Counter()
    for outcome in (outcome for row in rows for outcome in row):
        slips.update(code for code in outcome.note.split("+") if code in SLIPS)
    return LessonNumbers(
        lesson,
        paper.title,
        people,
        [
            QuestionNumbers(question, item, _wrong(column), bench_numbers(column))
            for question, item, column in zip(paper.questions, analysed, zip(*rows, strict=True), strict=True)
        ],
        cronbach_alpha(shares),
        kr20((shares == 1.0).astype(float)),
        slips.most_common(),
        fits_elsewhere(lesson, people, tries or {}),
    )


def _number(outcome: Outcome, question: AnyQuestion) -> float | None:
    number, _, unit = outcome.answer.partition(", from ")[0].partition(" ")
    if not isinstance(question, Question) or unit != question.unit or outcome.full:
        return None
    try:
        return float(number)
    except ValueError:
        return None


def fits_elsewhere(
    lesson: str, people: dict[str, list[Outcome]], tries: Mapping[str, int] | None = None
) -> dict[str, tuple[str, int]]:
    """Return who has wrong numbers that fit one other person's machine: whose and how many, if at least three do."""
    paper = sheet(lesson)
    wrong = {
        who: {o.question: number for o in outcomes if (number := _number(o, paper.question(o.question))) is not None}
        for who, outcomes in people.items()
    }
    wrong = {who: numbers for who, numbers in wrong.items() if len(numbers) >= _FITTING}
    if not wrong:
        return {}
    machines = {who: worked(lesson, paper.card(who, (tries or {}).get(who, 1))) for who in people}
    found: dict[str, tuple[str, int]] = {}
    for who, numbers in wrong.items():
        best = max(
            (
                (_fitting(lesson, numbers, right, machines[who]), other)
                for other, right in machines.items()
                if other != who
            ),
            default=(0, ""),
        )
        if best[0] >= max(_FITTING, len(numbers) / 2):
            found[who] = (best[1], best[0])
    return found


def _fitting(lesson: str, numbers: dict[str, float], right: dict[str, float], own: dict[str, float]) -> int:
    paper, count = sheet(lesson), 0
    for name, number in numbers.items():
        question = paper.question(name)
        if isinstance(question, Question) and not question.exact and abs(right[name] - own[name]) > 1e-9:
            count += number in figures_band(right[name], question.figures)
    return count


def cohort_numbers(
    marks: list[Mark],
    names: dict[str, str],
    late: dict[tuple[str, str], float] | None = None,
    remarks: list[str] | None = None,
) -> CohortNumbers:
    """Return the numbers of a cohort from its marks; ``late`` in seconds by id and lesson."""
    by_lesson: dict[str, dict[str, list[Outcome]]] = defaultdict(lambda: defaultdict(list))
    tries: dict[tuple[str, str], int] = {}
    for mark in marks:
        by_lesson[mark.lesson][mark.apprentice].append(mark.outcome)
        tries[mark.apprentice, mark.lesson] = mark.try_number
    lessons = [
        lesson_numbers(lesson, dict(sorted(people.items())), {who: tries[who, lesson] for who in people})
        for lesson, people in sorted(by_lesson.items())
    ]
    stranger = "not on the roster" if names else ""
    everybody = {who: stranger or who for numbers in lessons for who in numbers.people} | names
    days = {key: seconds / 86_400 for key, seconds in (late or {}).items() if seconds > 0}
    return CohortNumbers(dict(sorted(everybody.items())), lessons, days, remarks or [], tries)
