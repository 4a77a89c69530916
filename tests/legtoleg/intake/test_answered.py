"""Which questions a notebook answers: in its cells, in boxes, on the bench."""

from __future__ import annotations

import nbformat
from nbformat.notebooknode import NotebookNode
from nbformat.v4 import new_output

from dryerbench.notebook.answer_entry import AnswerEntry
from dryerbench.notebook.answer_record import MIME
from dryerbench.registry import sheet
from legtoleg.authoring.building import built_path
from legtoleg.intake.answered import answered

LESSON, NAME = "03_heater_power", "element_current"


def page(*outputs: NotebookNode) -> NotebookNode:
    notebook = nbformat.read(built_path(LESSON), as_version=4)
    next(cell for cell in notebook.cells if cell.id == f"{NAME}-hand-in").outputs = list(outputs)
    return notebook


def test_boxes_cells_and_nothing() -> None:
    entry = AnswerEntry(sheet(LESSON).question(NAME), sheet(LESSON).card("demo-01"), "")
    shown = new_output("display_data", data={MIME: entry.taken.record})
    assert answered(page(shown), page(), LESSON) == frozenset()
    entry.type_in("8.8 A")
    shown = new_output("display_data", data={MIME: entry.taken.record})
    assert answered(page(shown), page(), LESSON) == {NAME}
    typed = page()
    next(cell for cell in typed.cells if cell.id == f"{NAME}-answer").source = f'{NAME} = "8.8 A"'
    assert answered(typed, page(), LESSON) == {NAME}
