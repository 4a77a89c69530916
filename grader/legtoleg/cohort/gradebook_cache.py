"""Papers: one lesson as the book holds it, read once."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from nbgrader.api import Notebook


@dataclass(frozen=True)
class BookCell:
    """What the book knows of one cell of a lesson: its source as released, or what it is worth."""

    name: str
    cell_type: str = "code"
    locked: bool = False
    source: str = ""
    checksum: str = ""
    max_score: float = 0.0


@dataclass(frozen=True)
class BookRows:
    """The book's own ids: a lesson's, its notebook's, and by its id the name of each cell with a grade or a comment."""

    assignment: str
    notebook: str
    grades: dict[str, str]
    comments: dict[str, str]


@dataclass(frozen=True)
class CachedAssignment:
    """One lesson as the book holds it, read once; answers what nbgrader's ``OverwriteCells`` asks a grade book."""

    source_cells: tuple[BookCell, ...]
    grade_cells: tuple[BookCell, ...]
    solution_cells: tuple[BookCell, ...]
    task_cells: tuple[BookCell, ...]
    rows: BookRows
    """The book's own ids of the lesson, of its graded cells and of those with a comment."""

    def find_notebook(self, *_: str) -> CachedAssignment:
        """Return this lesson."""
        return self

    def find_source_cell(self, name: str, *_: str) -> BookCell:
        """Return a cell as released.

        Raises
        ------
        MissingEntry
            If the lesson has none of that name.
        """
        return _named(self.source_cells, name)

    def find_graded_cell(self, name: str, *_: str) -> BookCell:
        """Return what a graded cell is worth.

        Raises
        ------
        MissingEntry
            If the lesson has none of that name.
        """
        return _named((*self.grade_cells, *self.task_cells), name)


def _named(cells: tuple[BookCell, ...], name: str) -> BookCell:
    from nbgrader.api import MissingEntry

    for cell in cells:
        if cell.name == name:
            return cell
    raise MissingEntry(f"no cell {name}")


def read_assignment(notebook: Notebook) -> CachedAssignment:
    """Return the lesson that nbgrader's ``Notebook`` record holds."""
    source = tuple(
        BookCell(cell.name, cell.cell_type, cell.locked, cell.source, cell.checksum) for cell in notebook.source_cells
    )
    grades = tuple(BookCell(cell.name, cell.cell_type, max_score=cell.max_score) for cell in notebook.grade_cells)
    tasks = tuple(BookCell(cell.name, cell.cell_type, max_score=cell.max_score) for cell in notebook.task_cells)
    answers = tuple(BookCell(cell.name) for cell in notebook.solution_cells)
    graded = {cell.id: cell.name for cell in (*notebook.grade_cells, *notebook.task_cells)}
    commented = {cell.id: cell.name for cell in (*notebook.solution_cells, *notebook.task_cells)}
    rows = BookRows(notebook.assignment_id, notebook.id, graded, commented)
    return CachedAssignment(source, grades, answers, tasks, rows)
