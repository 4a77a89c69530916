"""Order: cells dragged about are marked in the released order; strangers stay below their neighbor."""

from __future__ import annotations

import copy
import random
from collections.abc import Callable

import nbformat
import pytest
from nbformat.notebooknode import NotebookNode
from nbformat.v4 import new_code_cell

from dryerbench.registry import sheet
from legtoleg.authoring.building import built_path
from legtoleg.cohort.cell_ordering import RestoreOrder
from legtoleg.cohort.cell_restoring import resources_for
from legtoleg.cohort.nbgrader_steps import RestoreMarks

LESSON = "03_heater_power"
RELEASED = nbformat.read(built_path(LESSON), as_version=4)
NAMES = [question.name for question in sheet(LESSON).questions]
IN_ORDER = [cell.id for cell in RELEASED.cells]


def ordered(change: Callable[[list[NotebookNode]], list[NotebookNode] | None]) -> list[str]:
    notebook = copy.deepcopy(RELEASED)
    notebook.cells = change(notebook.cells) or notebook.cells
    for step in (RestoreMarks(), RestoreOrder()):
        notebook, _ = step.preprocess(notebook, resources_for("demo-01", LESSON))
    return [cell.id for cell in notebook.cells]


def hand_ins_first(cells: list[NotebookNode]) -> list[NotebookNode]:
    return sorted(cells, key=lambda cell: not cell.id.endswith("-hand-in"))


def shuffled(cells: list[NotebookNode]) -> list[NotebookNode]:
    return random.Random(7).sample(cells, len(cells))


@pytest.mark.parametrize("change", [lambda cells: cells, hand_ins_first, shuffled, lambda cells: cells[::-1]])
def test_the_released_order_comes_back(change: Callable[[list[NotebookNode]], list[NotebookNode]]) -> None:
    assert ordered(change) == IN_ORDER


def test_strangers_stay_below_their_neighbor_and_at_the_top() -> None:
    asked, hand_in = f"{NAMES[1]}-asked", f"{NAMES[0]}-hand-in"

    def change(cells: list[NotebookNode]) -> list[NotebookNode]:
        made = []
        for cell in cells:
            made.append(cell)
            if cell.id == asked:
                made += [new_code_cell("volts = 240", id="mine-1"), new_code_cell("volts / 2", id="mine-2")]
        moved = [cell for cell in made if cell.id != hand_in]
        return [new_code_cell("# top", id="top"), next(cell for cell in made if cell.id == hand_in), *moved]

    found = ordered(change)
    assert [one for one in found if one not in ("top", "mine-1", "mine-2")] == IN_ORDER
    assert found[0] == "top"
    at = found.index(asked)
    assert found[at : at + 3] == [asked, "mine-1", "mine-2"]


def test_a_copy_of_a_cell_stays_where_it_is() -> None:
    def change(cells: list[NotebookNode]) -> list[NotebookNode]:
        again = copy.deepcopy(next(cell for cell in cells if cell.id == f"{NAMES[0]}-hand-in"))
        again.id = "again"
        return [*cells, again]

    assert ordered(change) == [*IN_ORDER, "again"]


def test_other_assignments_are_left_alone() -> None:
    notebook = copy.deepcopy(RELEASED)
    notebook.cells = notebook.cells[::-1]
    RestoreOrder().preprocess(notebook, resources_for("demo-01", "somebody_elses"))
    assert [cell.id for cell in notebook.cells] == IN_ORDER[::-1]
