"""What the report says of the bench: time and evidence of each question, and of each apprentice."""

from __future__ import annotations

from legtoleg.marking.bench_work import SETTLES, BenchWork
from legtoleg.marking.outcomes import Outcome
from legtoleg.report.bench_statistics import BenchNumbers
from legtoleg.report.cohort_statistics import LessonNumbers, QuestionNumbers

_SLOW = 1.5
"""From so many times the advised minutes on, half the cohort is slow at it (our own rule)."""


def bench_rows(lesson: LessonNumbers) -> list[dict[str, object]]:
    """Return one row for each question of ``lesson`` that was worked on the bench."""
    return [_row(number, one, one.bench) for number, one in enumerate(lesson.questions, 1) if one.bench is not None]


def _row(number: int, one: QuestionNumbers, bench: BenchNumbers) -> dict[str, object]:
    share = bench.settled
    return {
        "number": number,
        "title": one.question.title,
        "people": bench.people,
        "minutes": f"{bench.median:.0f}",
        "range": f"{bench.least:.0f} to {bench.most:.0f}",
        "advised": "" if bench.advised is None else f"{bench.advised:.0f}",
        "settled": "" if share is None else f"{100 * share:.0f}",
        "named": bench.named,
        "remark": _remark(bench),
    }


def _remark(bench: BenchNumbers) -> str:
    said = []
    if bench.thin:
        said.append(f"{bench.thin} named the right fault on readings that leave others possible")
    if bench.unread:
        said.append(f"{bench.unread} had read enough and named another fault")
    if bench.advised is not None and bench.median > _SLOW * bench.advised:
        said.append("slow: ask which reading they would take first")
    return "; ".join(said)


def bench_words(number: int, outcome: Outcome) -> str:
    """Return how one apprentice worked question ``number`` on the bench, in a few words; empty without a bench."""
    work = outcome.work
    if work is None:
        return ""
    return f"No. {number}: {work.minutes:.0f} min{_beside(work)}{_evidence(outcome, work)}"


def _beside(work: BenchWork) -> str:
    return "" if work.advised is None else f" (advised {work.advised:.0f})"


def _evidence(outcome: Outcome, work: BenchWork) -> str:
    if not work.evidence:
        return ""
    if work.evidence == SETTLES:
        return ", settled" if outcome.points > 0 else ", settled, but another fault named"
    return ", thin" if outcome.points > 0 else ", not found"
