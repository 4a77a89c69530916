"""A trial of the whole way: a made-up cohort, handed in, marked by nbgrader, and held against the truth."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

import nbformat

from dryerbench.core.errors import LegToLegError
from legtoleg.authoring.building import built_path
from legtoleg.cohort.batch_marking import Tell
from legtoleg.cohort.cohort_folder import ROSTER, TRUTH, Cohort
from legtoleg.cohort.gradebook import Book
from legtoleg.cohort.marking_run import mark_cohort
from legtoleg.cohort.marks import COLUMNS, Mark, all_marks, write_rows
from legtoleg.core.files import write_whole
from legtoleg.core.paths import lesson_names
from legtoleg.demo.simulated_apprentices import Deed, Simulated, filled_in, simulate
from legtoleg.intake.roster import Person, roster_text
from legtoleg.marking.note_titles import note_title
from legtoleg.report.report_run import write_report

TRUTH_COLUMNS = ("apprentice", "lesson", "question", "did", "typed", "expected_note", "expected_points", "expected")


class TrialError(LegToLegError, ValueError):
    """A trial that cannot start; the text says why."""


@dataclass
class Comparison:
    """Marks against truth: counts, and every place where they differ, in words."""

    right: int = 0
    slips: int = 0
    other: int = 0
    differences: list[str] = field(default_factory=list)
    how: str = ""
    """In words, how each notebook was run."""

    @property
    def agreed(self) -> bool:
        """Tell whether the marker found what each simulated apprentice did."""
        return not self.differences


def compare(marks: list[Mark], people: list[tuple[str, Simulated]]) -> Comparison:
    """Return how ``marks`` compare with what the simulated ``people`` (lesson, person) really did."""
    found = {(mark.apprentice, mark.lesson, mark.outcome.question): mark.outcome for mark in marks}
    result = Comparison()
    for lesson, person in people:
        for deed in person.deeds:
            outcome = found.get((person.apprentice, lesson, deed.question))
            _count(result, deed)
            if outcome is None:
                result.differences.append(f"{person.apprentice}, {deed.question}: not graded.")
            elif outcome.points != deed.expected_points or deed.expected_note not in outcome.note.split("+"):
                result.differences.append(
                    f"{person.apprentice}, {deed.question}: typed {deed.typed!r} ({deed.did}); marked "
                    f"{outcome.points:g} as {outcome.note}, expected {deed.expected_points:g} as {deed.expected_note}."
                )
    return result


def _count(result: Comparison, deed: Deed) -> None:
    if deed.did == "right":
        result.right += 1
    elif deed.did.startswith("slip:"):
        result.slips += 1
    else:
        result.other += 1


def run_trial(
    out: Path,
    apprentices: int,
    seed: int,
    tell: Tell = lambda *_: None,
    warn: Callable[[str], None] = lambda _: None,
) -> Comparison:
    """Make up a cohort in ``out``, mark it by the real path, write marks, truth, feedback and report.

    Raises
    ------
    TrialError
        If ``out`` already holds something else.
    CohortError
        If a step of nbgrader fails.
    """
    if out.exists() and any(out.iterdir()):
        raise TrialError(f"The folder {out} is not empty. Name a new one with --out, or empty it first.")
    lessons = lesson_names()
    jobs = [(lesson, simulate(n, seed, lesson)) for lesson in lessons for n in range(1, apprentices + 1)]
    tell("setting up the cohort", 0, len(jobs) + 2)
    cohort = Cohort.make(out, lessons)
    write_whole(cohort.folder / ROSTER, roster_text(_people(jobs)).encode("utf-8"))
    _hand_in(cohort, jobs)
    step: Tell = lambda what, done, _: tell(what, done + 1, len(jobs) + 2)
    summary = mark_cohort(out, made_up=True, tell=step, warn=warn)
    with Book(cohort.book) as book:
        marks = all_marks(cohort, book)
    result = compare(marks, jobs)
    result.how = summary.how
    result.differences += [f"not expected: {line}" for line in summary.attention if "was not graded" in line]
    tell("writing the report", len(jobs) + 1, len(jobs) + 2)
    _write(out, cohort, jobs, marks)
    tell("done", len(jobs) + 2, len(jobs) + 2)
    return result


def _people(jobs: list[tuple[str, Simulated]]) -> list[Person]:
    found = {person.apprentice: Person(person.apprentice, person.name) for _, person in jobs}
    return list(found.values())


def _hand_in(cohort: Cohort, jobs: list[tuple[str, Simulated]]) -> None:
    for lesson, person in jobs:
        path = cohort.submitted(person.apprentice, lesson)
        path.parent.mkdir(parents=True, exist_ok=True)
        nbformat.write(filled_in(nbformat.read(built_path(lesson), as_version=4), person), path)


def _write(out: Path, cohort: Cohort, jobs: list[tuple[str, Simulated]], marks: list[Mark]) -> None:
    write_rows(out / "marks.csv", COLUMNS, [mark.row() for mark in marks])
    truth = [
        {
            "apprentice": person.apprentice,
            "lesson": lesson,
            "question": deed.question,
            "did": deed.did,
            "typed": deed.typed,
            "expected_note": deed.expected_note,
            "expected_points": f"{deed.expected_points:g}",
            "expected": note_title(deed.expected_note),
        }
        for lesson, person in jobs
        for deed in person.deeds
    ]
    write_rows(out / TRUTH, TRUTH_COLUMNS, truth)
    write_report(cohort)
