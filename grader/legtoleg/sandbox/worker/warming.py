"""Warming: everything that lessons need is imported once, before the first notebook comes."""

from __future__ import annotations

import gc
import importlib
import json
import os
import shutil
import sys
import tempfile
from pathlib import Path

import dryerbench
from dryerbench.notebook.hand_in import close_lessons

from .shell import RecordingShell, make_shell, run_cells

CELL_CHARACTERS = 200_000
"""What one cell may show; the marker reads no more than a few such."""

_PRELOADED = (
    *(
        "encodings.ascii",
        "encodings.idna",
        "encodings.utf_16",
        "encodings.latin_1",
        "pickle",
        "numpy",
        "matplotlib.figure",
    ),
    *("scipy.interpolate", "scipy.optimize", "fluids.fittings", "fluids.friction"),
)
"""What lessons load when they first need it; a child that had to would load it for itself alone."""


def warm_shell() -> RecordingShell:
    """Return the one shell of this process, with all that lessons import in memory and nobody's names."""
    for name in _PRELOADED:
        importlib.import_module(name)
    for name in dryerbench.__all__:
        getattr(dryerbench, name)
    shell = make_shell(CELL_CHARACTERS)
    shell.run_cell("from dryerbench import *", store_history=False)
    keep(shell)
    return shell


_CELL_SECONDS = 60


def run_once(shell: RecordingShell, cells: list[str], environment: dict[str, str]) -> None:
    """Run a lesson as it was released, on the practice machine, so that a notebook of it finds all it needs in memory.

    No answer is in it. Names, the open lesson, the environment and the folder are as before afterwards.
    """
    before, streams = dict(os.environ), (sys.stdout, sys.stderr)
    os.environ.update(environment)
    desk = tempfile.mkdtemp(dir=os.environ["HOME"])
    folder = Path.cwd()
    os.chdir(desk)
    try:
        run_cells(shell, cells, _CELL_SECONDS, lambda *_: None)
    finally:
        os.chdir(folder)
        shutil.rmtree(desk, ignore_errors=True)
        os.environ.clear()
        os.environ.update(before)
        sys.stdout, sys.stderr = streams
        close_lessons()
        shell.execution_count = 1
        keep(shell)


def keep(shell: RecordingShell) -> None:
    """Forget all names, and leave what is in memory where it is for every fork."""
    shell.reset(new_session=False)
    shell.record.start()
    gc.collect()
    gc.freeze()  # so that a child's garbage collector does not copy what it shares with its siblings


def line_of(data: object) -> bytes:
    """Return ``data`` as one line of JSON."""
    try:
        return json.dumps(data, default=str).encode("utf-8", "replace") + b"\n"
    except (ValueError, TypeError, RecursionError):
        return b'{"unreadable": true}\n'
