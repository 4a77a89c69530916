"""The solved lesson earns everything for anybody, the untouched one nothing; nbval runs it."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import nbformat
import pytest
from IPython.core.interactiveshell import InteractiveShell
from IPython.utils.capture import capture_output

from dryerbench.core import identity
from dryerbench.drawing import interactive_figure
from legtoleg.authoring.building import built_path
from legtoleg.authoring.lesson_source import solved_notebook
from legtoleg.core.paths import START, lesson_names
from legtoleg.marking.answer_parsing import found_in_cell
from legtoleg.marking.marking import mark_lesson

RANDOM_IDS = {"03_heater_power": 200}
"""How many ids a lesson is solved for, where it is not 100."""


@pytest.fixture(scope="module")
def shell() -> Iterator[InteractiveShell]:
    made = InteractiveShell.instance()
    made.history_manager.enabled = False
    made.history_manager.end_session()
    yield made
    InteractiveShell.clear_instance()


def run(shell: InteractiveShell, notebook: nbformat.NotebookNode) -> dict[str, list[dict[str, Any]]]:
    """Run the cells in ``shell``, one after the other, and return what each question's cell showed."""
    shown = {}
    for cell in notebook.cells:
        if cell.cell_type != "code":
            continue
        with capture_output() as captured:
            shell.run_cell(cell.source, store_history=False)
        if cell.metadata.nbgrader.grade:
            outputs = [{"output_type": "display_data", "data": one.data} for one in captured.outputs]
            shown[cell.metadata.nbgrader.grade_id] = outputs
    return shown


def points(
    shell: InteractiveShell, notebook: nbformat.NotebookNode, lesson: str, apprentice: str
) -> tuple[float, float]:
    shown = run(shell, notebook)
    found = {name: found_in_cell(outputs, name) for name, outputs in shown.items()}
    marks = mark_lesson(lesson, apprentice, found).values()
    return sum(mark.points for mark in marks), sum(mark.max_points for mark in marks)


@pytest.mark.parametrize("lesson", lesson_names())
def test_solved_is_full_for_anybody(lesson: str, shell: InteractiveShell, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(interactive_figure.MODE, "words")
    notebook = solved_notebook(lesson)
    for apprentice in [f"anyone-{n}" for n in range(RANDOM_IDS.get(lesson, 100))]:
        monkeypatch.setenv(identity.VARIABLE, apprentice)
        earned, possible = points(shell, notebook, lesson, apprentice)
        assert earned == possible > 0, apprentice


@pytest.mark.parametrize("lesson", lesson_names())
def test_untouched_is_nothing(lesson: str, shell: InteractiveShell, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(interactive_figure.MODE, "words")
    untouched = nbformat.read(built_path(lesson), as_version=4)
    for apprentice in [f"anyone-{n}" for n in range(10)]:
        monkeypatch.setenv(identity.VARIABLE, apprentice)
        assert points(shell, untouched, lesson, apprentice)[0] == 0


@pytest.mark.slow
def test_nbval_runs_every_built_notebook(tmp_path: Path) -> None:
    built = [shutil.copy(built_path(lesson), tmp_path) for lesson in (START, *lesson_names())]
    done = subprocess.run(
        [
            sys.executable,
            "-m",
            "pytest",
            "--nbval-lax",
            "-q",
            "-p",
            "no:cacheprovider",
            "-p",
            "no:randomly",
            *map(str, built),
        ],
        check=False,
        capture_output=True,
        text=True,
        timeout=900,
        cwd=tmp_path,
    )
    assert done.returncode == 0, done.stdout[-2000:]
    cells = sum(cell.cell_type == "code" for path in built for cell in nbformat.read(path, as_version=4).cells)
    assert f"{cells} passed" in done.stdout
