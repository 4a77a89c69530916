"""Built lessons: what their sources make, unsolved, with nbgrader's marks, and without outputs."""

from __future__ import annotations

import nbformat
import pytest
from nbgrader.utils import compute_checksum

from legtoleg.authoring.building import as_text, built_path, released_notebook
from legtoleg.authoring.lesson_source import start_page
from legtoleg.core.paths import START, lesson_names

pytestmark = pytest.mark.filterwarnings("ignore::sqlalchemy.exc.SAWarning")


@pytest.mark.parametrize("lesson", lesson_names())
def test_no_built_lesson_is_stale(lesson: str) -> None:
    assert built_path(lesson).read_text(encoding="utf-8") == as_text(released_notebook(lesson)), "run: legtoleg build"


@pytest.mark.parametrize("lesson", lesson_names())
def test_a_built_lesson_is_unsolved_and_checked(lesson: str) -> None:
    notebook = nbformat.read(built_path(lesson), as_version=4)
    nbformat.validate(notebook)
    for cell in notebook.cells:
        assert "SOLUTION" not in cell.source
        if cell.cell_type == "code":
            assert cell.outputs == []
            assert cell.execution_count is None
            marked = cell.metadata.nbgrader
            assert marked.locked or marked.solution
            if marked.locked or marked.grade or marked.solution:
                assert marked.checksum == compute_checksum(cell)


def test_the_start_page_is_built_and_asks_nothing() -> None:
    notebook = nbformat.read(built_path(START), as_version=4)
    assert built_path(START).read_text(encoding="utf-8") == as_text(start_page()), "run: legtoleg build"
    assert all("nbgrader" not in cell.metadata for cell in notebook.cells)
    assert any("show_path()" in cell.source for cell in notebook.cells)
