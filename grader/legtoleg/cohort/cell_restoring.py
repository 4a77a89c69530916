"""Restoring: a handed-in notebook brought back to the released lesson's locked cells and order, by nbgrader's steps."""

from __future__ import annotations

from nbformat.notebooknode import NotebookNode
from nbgrader.preprocessors import ClearOutput, OverwriteCells
from nbgrader.preprocessors.base import NbGraderPreprocessor

from legtoleg.cohort.cell_ordering import RestoreOrder
from legtoleg.cohort.gradebook import Book
from legtoleg.cohort.gradebook_cache import CachedAssignment
from legtoleg.cohort.nbgrader_steps import RestoreMarks
from legtoleg.cohort.newer_questions import AddNewerQuestions
from legtoleg.core.notebook_format import KERNEL, Resources
from legtoleg.marking.bench_trail_recovery import KeepWork


class _OverwriteFromPaper(OverwriteCells):  # type: ignore[misc]
    """nbgrader's OverwriteCells, asking a lesson read once instead of opening the book for every notebook."""

    paper: CachedAssignment | None = None

    def preprocess(self, nb: NotebookNode, resources: Resources) -> tuple[NotebookNode, Resources]:
        """Put the locked cells of the lesson in ``resources`` right, and add those that are missing."""
        self.notebook_id = resources["nbgrader"]["notebook"]
        self.assignment_id = resources["nbgrader"]["assignment"]
        self.gradebook = self.paper
        nb, resources = super(OverwriteCells, self).preprocess(nb, resources)
        nb, resources = self.add_missing_grade_cells(nb, resources)
        nb, resources = self.add_missing_task_cells(nb, resources)
        return nb, resources


def resources_for(apprentice: str, lesson: str) -> Resources:
    """Return the resources that nbgrader gives to its preprocessors, without an address of the book."""
    return {"nbgrader": {"student": apprentice, "assignment": lesson, "notebook": lesson, "db_url": ""}}


class Restorer:
    """Brings notebooks back to what was released; one for a run of marking."""

    def __init__(self, book: Book) -> None:
        self._book = book
        self._overwrite = _OverwriteFromPaper(add_missing_cells=True)
        self._overwrite.log.setLevel("ERROR")
        self._newer = AddNewerQuestions()
        self._before: list[NbGraderPreprocessor] = [KeepWork(), ClearOutput(), RestoreMarks()]
        self._before += [self._newer, RestoreOrder()]

    def restore(self, notebook: NotebookNode, apprentice: str, lesson: str) -> NotebookNode:
        """Return ``notebook`` with the locked cells, marks and kernel of ``lesson``, without outputs."""
        resources = resources_for(apprentice, lesson)
        self._newer.paper = self._overwrite.paper = self._book.paper(lesson)
        for step in self._before:
            notebook, resources = step.preprocess(notebook, resources)
        notebook.metadata["kernelspec"] = NotebookNode(KERNEL)
        notebook, _ = self._overwrite.preprocess(notebook, resources)
        # nbgrader's CheckCellMetadata is left out: every mark in it now is the source's own, each once.
        _give_ids(notebook)
        return notebook


def _give_ids(notebook: NotebookNode) -> None:
    """Give the cells that nbgrader added an id, as today's notebooks have."""
    used = {cell.id for cell in notebook.cells if "id" in cell}
    for cell in notebook.cells:
        if "id" not in cell:
            wanted = f"{cell['metadata']['nbgrader']['grade_id']}-added".replace("_", "-")[:60]
            cell.id = next(name for n in range(len(used) + 1) if (name := f"{wanted}-{n}") not in used)
            used.add(cell.id)
