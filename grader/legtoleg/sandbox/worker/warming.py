"""Warming: everything that lessons need is imported once, before the first notebook comes."""

from __future__ import annotations

import gc
import importlib
import json

import dryerbench

from .shell import RecordingShell, make_shell

CELL_CHARACTERS = 200_000
"""What one cell may show; the marker reads no more than a few such."""

_PRELOADED = (
    *("encodings.idna", "encodings.utf_16", "encodings.latin_1", "pickle", "numpy", "matplotlib.figure"),
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
    shell.reset(new_session=False)
    shell.record.start()
    gc.collect()
    gc.freeze()  # so that a child's garbage collector does not copy what it shares with its siblings
    return shell


def line_of(data: object) -> bytes:
    """Return ``data`` as one line of JSON."""
    try:
        return json.dumps(data, default=str).encode("utf-8", "replace") + b"\n"
    except (ValueError, TypeError, RecursionError):
        return b'{"unreadable": true}\n'
