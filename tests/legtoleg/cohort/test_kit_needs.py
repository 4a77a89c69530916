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
    for lesson, cells in json.load(sys.stdin).items():
        shell.reset(new_session=False)
        for cell in cells:
            result = shell.run_cell(cell)
            failed += [f"{lesson}: {error}" for error in (result.error_before_exec, result.error_in_exec) if error]
found = sorted(name for name, module in sys.modules.items() if getattr(module, "__file__", None))
print(json.dumps({"found": found, "failed": failed}))
"""
"""Solves all lessons in one Python, each with nothing of the one before it in sight."""
PROGRAM = {"jupyterlab"}
"""What opens the lessons; no lesson imports it."""


def loaded() -> tuple[set[str], set[str], list[str]]:
    """Return the distributions that solving the lessons loads, the modules, and what failed."""
    cells = {
        lesson: [cell.source for cell in solved_notebook(lesson).cells if cell.cell_type == "code"]
        for lesson in sorted(SHEETS)
    }
    done = subprocess.run(
        [sys.executable, "-c", RUN], input=json.dumps(cells), capture_output=True, text=True, check=True, timeout=300
    )
    said = json.loads(done.stdout.splitlines()[-1])
    owners = packages_distributions()
    tops = {name.partition(".")[0] for name in said["found"]}
    return {canonicalize_name(one) for top in tops for one in owners.get(top, [])}, set(said["found"]), said["failed"]


@pytest.mark.slow
def test_nothing_is_fetched_that_no_lesson_imports() -> None:
    wanted = {canonicalize_name(name) for name in NEEDS} - PROGRAM
    found, modules, failed = loaded()
    assert failed == []
    # pint looks whether SciPy is there and takes its front alone: what counts is that a lesson uses a part of it.
    if not {"scipy.optimize", "scipy.interpolate"} & modules:
        found.discard("scipy")
    assert wanted - found == set()
