"""A kit: what an apprentice gets. The lessons, ``dryerbench``, the tables, and the mark that says whose it is."""

from __future__ import annotations

import json
import zipfile
from collections.abc import Iterator
from pathlib import Path

from dryerbench.kits import MARK, checked_id
from grader.rooms import room

_LEFT_OUT = ("__pycache__", ".ipynb_checkpoints", "progress.json", "progress.json.new", "signed_off.json")


def kit_files() -> Iterator[tuple[Path, str]]:
    """Yield each file of a kit and its name inside it."""
    for name in ("lessons", "datasets"):
        folder = room(name)
        for path in sorted(folder.rglob("*")):
            if path.is_file() and not any(part in _LEFT_OUT for part in path.parts):
                yield path, f"leg-to-leg/{name}/{path.relative_to(folder).as_posix()}"


def pack(apprentice: str, out: Path) -> Path:
    """Write the kit of ``apprentice`` into the folder ``out`` and return its path.

    Raises
    ------
    KitError
        If ``apprentice`` cannot be an id.
    """
    mark = json.dumps({"apprentice": checked_id(apprentice)}, indent=2) + "\n"
    out.mkdir(parents=True, exist_ok=True)
    path = out / f"leg-to-leg-{apprentice}.zip"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as kit:
        kit.writestr(f"leg-to-leg/{MARK}", mark)
        for source, name in kit_files():
            kit.write(source, name)
    return path
