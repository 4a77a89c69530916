"""What a kit fetches: each package is really imported when the lessons run, seen by what Python has loaded."""

from __future__ import annotations

import json
import subprocess
import sys
from importlib.metadata import packages_distributions

import pytest
from packaging.utils import canonicalize_name

from dryerbench.registry import SHEETS
from legtoleg.authoring.lesson_source import solved_notebook
from legtoleg.cohort.kit import NEEDS

RUN = """
import contextlib, io, json, sys
from IPython.core.interactiveshell import InteractiveShell
shell = InteractiveShell.instance()
failed = []
with contextlib.redirect_stdout(io.StringIO()):
    for cell in json.load(sys.stdin):
        result = shell.run_cell(cell)
        failed += [str(error) for error in (result.error_before_exec, result.error_in_exec) if error]
found = sorted(name for name, module in sys.modules.items() if getattr(module, "__file__", None))
print(json.dumps({"found": found, "failed": failed}))
"""
PROGRAM = {"jupyterlab"}
"""What opens the lessons; no lesson imports it."""


def loaded(lesson: str) -> tuple[set[str], set[str], list[str]]:
    """Return the distributions that solving ``lesson`` loads, the modules, and what failed."""
    cells = [cell.source for cell in solved_notebook(lesson).cells if cell.cell_type == "code"]
    done = subprocess.run(
        [sys.executable, "-c", RUN], input=json.dumps(cells), capture_output=True, text=True, check=True, timeout=120
    )
    said = json.loads(done.stdout.splitlines()[-1])
    owners = packages_distributions()
    tops = {name.partition(".")[0] for name in said["found"]}
    return {canonicalize_name(one) for top in tops for one in owners.get(top, [])}, set(said["found"]), said["failed"]


@pytest.mark.slow
def test_nothing_is_fetched_that_no_lesson_imports() -> None:
    wanted = {canonicalize_name(name) for name in NEEDS} - PROGRAM
    found: set[str] = set()
    for lesson in sorted(SHEETS):
        owners, modules, failed = loaded(lesson)
        assert failed == []
        # pint looks whether SciPy is there and takes its front alone: what counts is that a lesson uses a part of it.
        used = {"scipy.optimize", "scipy.interpolate"} & modules
        found |= owners if used else owners - {"scipy"}
    assert wanted - found == set()
