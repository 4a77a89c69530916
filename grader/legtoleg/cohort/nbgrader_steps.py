"""Steps of ours in nbgrader's autograde: give cells their marks again, and mark the answers."""

from __future__ import annotations

import re
from functools import cache
from html import escape

from nbformat import from_dict
from nbformat.notebooknode import NotebookNode
from nbgrader.preprocessors import NbGraderPreprocessor
from nbgrader.utils import is_grade

from dryerbench.drawing.message_box import message_box
from dryerbench.notebook.answer_record import MIME as RECORD
from dryerbench.registry import SHEETS
from legtoleg.authoring.lesson_source import solved_notebook
from legtoleg.cohort.newer_questions import newer_in
from legtoleg.cohort.page_safety import make_safe
from legtoleg.core.notebook_format import ISOLATED, Resources
from legtoleg.core.try_ledger import TRY, try_in
from legtoleg.marking.answer_parsing import Found, found_in_cell
from legtoleg.marking.bench_trail_recovery import with_kept_work
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import MIME, Outcome, signed_off
from legtoleg.sandbox.run_notebook import RUN


class RestoreMarks(NbGraderPreprocessor):  # type: ignore[misc]
    """Gives each cell of ours the metadata of its source again, and takes it from copies and strangers.

    nbgrader itself stops at a copied cell, at a cell of an unknown id and at metadata of another version.
    """

    def preprocess(self, nb: NotebookNode, resources: Resources) -> tuple[NotebookNode, Resources]:
        """Restore the metadata of the lesson in ``resources``; other assignments are left as they are."""
        lesson = resources["nbgrader"]["assignment"]
        if lesson not in SHEETS:
            return nb, resources
        source, ids = _source_marks(lesson)
        seen: set[str] = set()
        for cell in nb.cells:
            name = _name(cell) if _name(cell) in source else ids.get(cell.get("id", ""))
            cell.metadata.pop("nbgrader", None)
            if name is not None and name not in seen:
                seen.add(name)
                cell.metadata["nbgrader"] = NotebookNode(source[name])
        if not seen:
            _mark_by_source(nb.cells, source)
        return nb, resources


def _mark_by_source(cells: list[NotebookNode], source: dict[str, NotebookNode]) -> None:
    """Mark the cells of a notebook that has lost every id and mark, by the question that each hands in or answers."""
    seen: set[str] = set()
    for cell in cells:
        handed = re.match(r"""\s*hand_in\(["'](\w+)["']""", cell.source)
        typed = re.match(r"\s*(\w+)[ \t]*=(?!=)", cell.source)
        name = handed.group(1) if handed else f"{typed.group(1)}_answer" if typed else ""
        if cell.cell_type == "code" and name in source and name not in seen:
            seen.add(name)
            cell.metadata["nbgrader"] = NotebookNode(source[name])


@cache
def _source_marks(lesson: str) -> tuple[dict[str, NotebookNode], dict[str, str]]:
    """Return nbgrader's metadata of each cell of the source, by its name, and the name by cell id."""
    cells = [cell for cell in solved_notebook(lesson).cells if _marked(cell)]
    marks = {cell.metadata["nbgrader"]["grade_id"]: cell.metadata["nbgrader"] for cell in cells}
    return marks, {cell.id: cell.metadata["nbgrader"]["grade_id"] for cell in cells}


def _marked(cell: NotebookNode) -> bool:
    return "nbgrader" in cell.metadata


def _name(cell: NotebookNode) -> str | None:
    marks = cell.metadata.get("nbgrader")
    name = marks.get("grade_id") if isinstance(marks, dict) else None
    return name if isinstance(name, str) else None


class MarkAnswers(NbGraderPreprocessor):  # type: ignore[misc]
    """Marks the records in the outputs and puts the points where nbgrader reads them."""

    def preprocess(self, nb: NotebookNode, resources: Resources) -> tuple[NotebookNode, Resources]:
        """Mark every question of ours for the student in ``resources``; other assignments are left as they are."""
        lesson, student = resources["nbgrader"]["assignment"], resources["nbgrader"]["student"]
        if lesson not in SHEETS:
            return nb, resources
        cells = {cell.metadata["nbgrader"]["grade_id"]: cell for cell in nb.cells if is_grade(cell)}
        early = RUN in resources
        found = {name: _found(cell, name, early=early) for name, cell in cells.items()}
        found |= {name: Found("newer") for name in newer_in(nb)}
        number = try_in(resources)
        nb.metadata[TRY] = number
        nb.metadata[ISOLATED] = resources.get(ISOLATED) is True
        outcomes = mark_lesson(lesson, student, found, number)
        signed = signed_off(list(outcomes.values()))
        for cell in nb.cells:
            if "outputs" in cell:
                cell.outputs = [output for output in cell.outputs if RECORD not in output.get("data", {})]
        make_safe(nb, lesson)
        for name, outcome in outcomes.items():
            if name in cells:
                cells[name].outputs = marked_outputs(cells[name].outputs, outcome, signed=signed)
        return nb, resources


def _found(cell: NotebookNode, name: str, *, early: bool) -> Found:
    answer = with_kept_work(found_in_cell(cell.get("outputs", []), name), cell, name)
    return Found("kernel_died") if early and answer.state == "no_record" else answer


def marked_outputs(outputs: list[NotebookNode], outcome: Outcome, *, signed: bool) -> list[NotebookNode]:
    """Return a cell's outputs with the outcome in front, where nbgrader reads the points, and no rival to it."""
    front = from_dict(
        {
            "output_type": "execute_result",
            "data": {
                "text/plain": f"{outcome.points:g}",
                "text/html": outcome_html(outcome, signed=signed),
                MIME: outcome.as_data(),
            },
            "metadata": {},
            "execution_count": None,
        }
    )
    noise = [
        output
        for output in outputs
        if output.output_type in ("stream", "error")
        or (output.output_type == "display_data" and RECORD not in output.get("data", {}))
    ]
    return [front, *noise]


def outcome_html(outcome: Outcome, *, signed: bool) -> str:
    """Return the outcome as the apprentice reads it in the feedback, safe to show."""
    said = " ".join([outcome.said(signed=signed), *outcome.work_words(signed=signed)])
    answer = f"Your answer: <b>{escape(outcome.answer)}</b>. " if outcome.answer else ""
    return message_box(
        f"<br>{answer}{escape(said)}",
        heading=f"{outcome.points:g} of {outcome.max_points:g} points",
        sign="✓" if outcome.full else "→",
        fine=outcome.full,
    )
