"""The pictures of DEVELOPERS.md say what is there: every file that they name, the order that the code has."""

from __future__ import annotations

import ast
import importlib.util
import inspect
import textwrap
from pathlib import Path
from types import ModuleType

import pytest

from legtoleg.cohort.batch_marking import Marker

ROOT = Path(__file__).resolve().parents[1]


@pytest.fixture(scope="module")
def diagrams() -> ModuleType:
    spec = importlib.util.spec_from_file_location("make_diagrams", ROOT / "tests" / "make_diagrams.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    import sys

    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


def test_every_file_that_is_named_is_there(diagrams: ModuleType) -> None:
    named = [box.path for box in diagrams.PROCESSES if box.path] + [path for *_, path in diagrams.WRITES]
    assert len(named) > 7
    for path in named:
        assert (ROOT / "grader" / "legtoleg" / path).is_file(), path


def test_the_order_of_writes_is_that_of_the_code(diagrams: ModuleType) -> None:
    tree = ast.parse(textwrap.dedent(inspect.getsource(Marker.save)))
    calls = sorted((node.lineno, ast.unparse(node)) for node in ast.walk(tree) if isinstance(node, ast.Call))
    marks = {
        "book": "_book.save(",
        "marked notebook": "autograded(",
        "feedback page": "one.page",
        "signed-off note": "note_signed(",
        "marking cache": "_ledger.write(",
    }
    first = {title: next(line for line, text in calls if word in text) for title, word in marks.items()}
    assert [title for title, *_ in diagrams.WRITES] == sorted(first, key=lambda title: first[title])


def test_the_files_of_a_question_are_found_and_explained(diagrams: ModuleType) -> None:
    found = dict(diagrams.places())
    assert {path.rpartition("/")[2] for path in found} <= set(diagrams.SAYS)
    assert {"sheet.py", "models.py", "two_legs.py", "02_two_legs.md"} <= {path.rpartition("/")[2] for path in found}


def test_the_three_are_drawn(diagrams: ModuleType) -> None:
    for draw in (diagrams.draw_processes, diagrams.draw_writes, diagrams.draw_question):
        assert draw().axes[0].texts
