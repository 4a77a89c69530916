"""Order: the lesson's own cells put back into the released order before a handed-in notebook is run.

A hand-in cell that was dragged above its answer would find no answer. Cells of strangers (an apprentice's own notes and
sums) stay below the cell that they stood below.
"""

from __future__ import annotations

from functools import cache

from nbformat.notebooknode import NotebookNode
from nbgrader.preprocessors.base import NbGraderPreprocessor

from dryerbench.registry import SHEETS
from legtoleg.authoring.lesson_source import solved_notebook
from legtoleg.core.notebook_format import Resources

__all__ = ["RestoreOrder"]


class RestoreOrder(NbGraderPreprocessor):  # type: ignore[misc]
    """Puts the cells of a lesson of ours into the released order; a notebook that is in order is left as it is."""

    def preprocess(self, nb: NotebookNode, resources: Resources) -> tuple[NotebookNode, Resources]:
        """Order the cells of the lesson in ``resources``; other assignments are left as they are."""
        lesson = resources["nbgrader"]["assignment"]
        if lesson in SHEETS:
            nb.cells = _in_order(nb.cells, _places(lesson))
        return nb, resources


@cache
def _places(lesson: str) -> dict[str, int]:
    """Return the place of each released cell, by nbgrader's name of it and by its id."""
    places: dict[str, int] = {}
    for place, cell in enumerate(solved_notebook(lesson).cells):
        places[f"id {cell.id}"] = place
        if "nbgrader" in cell.metadata:
            places[f"name {cell.metadata['nbgrader']['grade_id']}"] = place
    return places


def _place(cell: NotebookNode, places: dict[str, int]) -> int | None:
    marks = cell.metadata.get("nbgrader")
    if isinstance(marks, dict):
        return places.get(f"name {marks.get('grade_id')}")
    # Only text can be told by its id alone: a copy of a marked cell has lost its mark by now, and is a stranger.
    return places.get(f"id {cell.get('id', '')}") if cell.cell_type == "markdown" else None


def _in_order(cells: list[NotebookNode], places: dict[str, int]) -> list[NotebookNode]:
    """Return the cells, those with a place in its order, each with the cells without one that stood right below it."""
    groups: list[tuple[int, list[NotebookNode]]] = [(-1, [])]
    seen: set[int] = set()
    for cell in cells:
        place = _place(cell, places)
        if place is None or place in seen:
            groups[-1][1].append(cell)
            continue
        seen.add(place)
        groups.append((place, [cell]))
    return [cell for _, group in sorted(groups, key=lambda group: group[0]) for cell in group]
