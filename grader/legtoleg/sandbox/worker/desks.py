"""A folder of its own for a notebook that is not shut in, and no marker that an import could find. For every system."""

from __future__ import annotations

import importlib.abc
import os
import shutil
import sys
import tempfile
from collections.abc import Sequence
from importlib.machinery import ModuleSpec
from pathlib import Path
from types import ModuleType

MARKER = "legtoleg"


class _NoMarker(importlib.abc.MetaPathFinder):
    """Finds no marker, wherever it is."""

    def find_spec(
        self, fullname: str, _path: Sequence[str] | None, _target: ModuleType | None = None
    ) -> ModuleSpec | None:
        if fullname.partition(".")[0] == MARKER:
            raise ModuleNotFoundError("The marker is not in here.", name=fullname)
        return None


def hide_marker() -> None:
    """Let no import find the marker, and take the folders that hold nothing else from Python's path."""
    sys.path[:] = [place for place in sys.path if "site-packages" in place or not Path(place, MARKER).is_dir()]
    sys.meta_path.insert(0, _NoMarker())


def own_desk() -> str:
    """Return a new folder for one notebook."""
    return tempfile.mkdtemp(prefix="leg-to-leg-desk-")


def move_to(desk: str) -> None:
    """Work in ``desk`` from now on."""
    os.environ.update(HOME=desk, TMPDIR=desk, IPYTHONDIR=desk, MPLCONFIGDIR=desk)
    tempfile.tempdir = None
    os.chdir(desk)


def remove(desk: str) -> None:
    """Remove the folder of a notebook that has ended."""
    shutil.rmtree(desk, ignore_errors=True)
