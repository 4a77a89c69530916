"""Marks: what stands in nbgrader's book and in the marked notebooks, as rows."""

from __future__ import annotations

import csv
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from nbformat.notebooknode import NotebookNode

from dryerbench.core.errors import LegToLegError
from legtoleg.authoring.nbgrader_api import COURSE
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.gradebook import Book
from legtoleg.core.notebook_format import ISOLATED
from legtoleg.core.try_ledger import TRY
from legtoleg.marking.bench_trail_recovery import KEPT, boxed_in, handed_in_by
from legtoleg.marking.note_titles import note_title
from legtoleg.marking.outcomes import MIME, Outcome

COLUMNS = (
    "apprentice",
    "lesson",
    "try",
    "question",
    "points",
    "max_points",
    "note",
    "what_happened",
    "safety",
    "isolation",
)
ISOLATION = {True: "isolated", False: "not isolated", None: ""}
"""What stands in that column: the notebook was shut in while it ran, it was not, or nothing says so (older marks)."""


class MarksDisagreeError(LegToLegError, RuntimeError):
    """The book and a marked notebook say different points; the text names the question."""


@dataclass(frozen=True)
class Mark:
    """One question of one apprentice: the outcome, with the points that the book holds."""

    apprentice: str
    lesson: str
    outcome: Outcome
    try_number: int = 1
    """For which time the card was dealt."""
    isolated: bool | None = None
    """Whether the notebook was shut in while it ran; None if it was marked before this was kept."""

    def row(self) -> dict[str, str]:
        """Return the columns of ``marks.csv``."""
        o = self.outcome
        return {
            "apprentice": self.apprentice,
            "lesson": self.lesson,
            "try": str(self.try_number),
            "question": o.question,
            "points": f"{o.points:g}",
            "max_points": f"{o.max_points:g}",
            "note": o.note,
            "what_happened": note_title(o.note),
            "safety": o.safety,
            "isolation": ISOLATION[self.isolated],
        }


def _is_question(cell: NotebookNode) -> bool:
    return bool(cell["metadata"].get("nbgrader", {}).get("grade"))


def outcomes_of(notebook: NotebookNode) -> list[Outcome]:
    """Return the outcomes that stand in a marked notebook, in its order: each the first output of a question's cell.

    What any other cell shows in the form of an outcome is the apprentice's own, and counts for nothing.
    """
    cells = (cell for cell in notebook["cells"] if _is_question(cell))
    outputs = (output for cell in cells for output in cell.get("outputs", [])[:1])
    return [Outcome.from_data(output["data"][MIME]) for output in outputs if MIME in output.get("data", {})]


def untouched_answers(notebook: NotebookNode) -> Iterator[str]:
    """Yield the answer cells of a marked notebook that were left as released, and not answered in a box either."""
    from nbgrader.utils import compute_checksum, is_solution

    boxed = {name for cell in notebook.cells if boxed_in(cell.metadata.get(KEPT, []), name := handed_in_by(cell))}
    for cell in notebook.cells:
        if is_solution(cell) and cell.metadata.nbgrader.get("checksum") == compute_checksum(cell):
            name = cell.metadata.nbgrader["grade_id"]
            if name.removesuffix("_answer") not in boxed:
                yield name


def all_marks(cohort: Cohort, book: Book, lesson: str | None = None) -> list[Mark]:
    """Return the marks of every hand-in that is marked, by lesson and apprentice, the book read once.

    Raises
    ------
    MarksDisagreeError
        If the book and a marked notebook say different points.
    """
    points = book.points(lesson)
    marks = []
    for who, what in sorted(points, key=lambda key: (key[1], key[0])):
        path = cohort.autograded(who, what)
        if path.is_file():
            marks += agreed(who, what, _read(path), points[who, what])
    return marks


def outcomes_in(notebook: Path) -> list[Outcome]:
    """Return the outcomes of a notebook that this marker wrote, without checking its whole form."""
    return outcomes_of(_read(notebook))


def _read(notebook: Path) -> NotebookNode:
    return json.loads(notebook.read_text(encoding="utf-8"))


def try_in_notebook(notebook: NotebookNode) -> int:
    """Return of which try a marked notebook is."""
    number = notebook.get("metadata", {}).get(TRY, 1)
    return number if type(number) is int else 1


def isolated_in_notebook(notebook: NotebookNode) -> bool | None:
    """Return whether a marked notebook was shut in while it ran; None if it does not say."""
    said = notebook.get("metadata", {}).get(ISOLATED)
    return said if type(said) is bool else None


def try_of(notebook: Path) -> int:
    """Return of which try a notebook is that this marker wrote."""
    return try_in_notebook(_read(notebook))


def book_points(cohort: Cohort, apprentice: str, lesson: str) -> dict[str, float]:
    """Return the points that nbgrader's book holds for each question."""
    from nbgrader.api import Gradebook

    with Gradebook(cohort.book, COURSE) as book:
        submission = book.find_submission(lesson, apprentice)
        return {grade.name: float(grade.score) for notebook in submission.notebooks for grade in notebook.grades}


def marks_of(cohort: Cohort, apprentice: str, lesson: str) -> list[Mark]:
    """Return the marks of one hand-in, after checking that the book and the marked notebook agree.

    Raises
    ------
    MarksDisagreeError
        If they do not.
    """
    notebook = _read(cohort.autograded(apprentice, lesson))
    return agreed(apprentice, lesson, notebook, book_points(cohort, apprentice, lesson))


def agreed(apprentice: str, lesson: str, notebook: NotebookNode, book: Mapping[str, float] | None) -> list[Mark]:
    """Return the marks in a marked ``notebook``, after checking that the ``book`` has the same points; None: no book.

    Raises
    ------
    MarksDisagreeError
        If they do not agree.
    """
    number, isolated = try_in_notebook(notebook), isolated_in_notebook(notebook)
    marks = [Mark(apprentice, lesson, outcome, number, isolated) for outcome in outcomes_of(notebook)]
    for mark in marks:
        if book is not None and abs(book.get(mark.outcome.question, -1.0) - mark.outcome.points) > 1e-9:
            raise MarksDisagreeError(
                f"{apprentice}, {mark.outcome.question}: the book holds "
                f"{book.get(mark.outcome.question, 'no')} points, "
                f"the graded notebook {mark.outcome.points}. Grade this hand-in again."
            )
    return marks


def write_rows(path: Path, columns: Iterable[str], rows: Iterable[Mapping[str, object]]) -> None:
    """Write ``rows`` as a CSV file in UTF-8."""
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, fieldnames=list(columns))
        writer.writeheader()
        writer.writerows(rows)
