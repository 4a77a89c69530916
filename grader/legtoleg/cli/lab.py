"""JupyterLab at the lessons: this Python's kernel, nothing fetched from outside."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

from jupyter_core.paths import jupyter_config_dir

from dryerbench.core.errors import LegToLegError
from dryerbench.core.identity import OWN
from legtoleg.core.files import write_whole
from legtoleg.core.lab_settings import FIRST_VIEW, FIRST_VIEW_FILE, SETTINGS, SWITCHED_OFF, WORKSPACES
from legtoleg.core.paths import START, course_folder, in_checkout

NOT_COPIED = ("dryerbench", "__pycache__", ".ipynb_checkpoints", *OWN)
"""What of a checkout's lessons is not a lesson, or is somebody's own."""


class LabError(LegToLegError, OSError):
    """Lessons that cannot be opened; the text says why and what to do."""


def settings_folder(under: Path) -> Path:
    """Write JupyterLab's settings for this course under ``under`` and return their folder."""
    folder = under / "lab-settings"
    for name, values in SETTINGS.items():
        path = folder / "@jupyterlab" / f"{name}.jupyterlab-settings"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(json.dumps(values, indent=2) + "\n", encoding="utf-8")
    return folder


def workspaces_folder(under: Path) -> Path:
    """Return the folder under ``under`` of how the window stood; at the first start it stands with no list of files."""
    first = under / WORKSPACES / FIRST_VIEW_FILE
    if not first.exists():
        first.parent.mkdir(parents=True, exist_ok=True)
        first.write_text(json.dumps(FIRST_VIEW) + "\n", encoding="utf-8")
    return first.parent


def config_folder(under: Path) -> Path:
    """Write the list of what stays switched off under ``under`` and return its folder."""
    folder = under / "lab-config"
    page = folder / "labconfig" / "page_config.json"
    page.parent.mkdir(parents=True, exist_ok=True)
    page.write_text(json.dumps(SWITCHED_OFF) + "\n", encoding="utf-8")
    return folder


def lab_environment(under: Path) -> dict[str, str]:
    """Return this environment with JupyterLab's settings for the course, kept under ``under``."""
    paths = [str(config_folder(under)), *filter(None, [os.environ.get("JUPYTER_CONFIG_PATH")])]
    return {
        **os.environ,
        "JUPYTERLAB_SETTINGS_DIR": str(settings_folder(under)),
        "JUPYTERLAB_WORKSPACES_DIR": str(workspaces_folder(under)),
        "JUPYTER_CONFIG_PATH": os.pathsep.join(paths),
    }


def lab_command(root: Path, *options: str) -> list[str]:
    """Return the command that starts JupyterLab at the folder ``root``."""
    no_updates = "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate"
    start = f"--LabApp.default_url=/lab/tree/{START}/{START}.ipynb?file-browser-path=/"
    return [sys.executable, "-m", "jupyterlab", f"--ServerApp.root_dir={root}", start, no_updates, *options]


def lessons_to_open(folder: Path | None = None) -> Path:
    """Return the folder of lessons to work in: ``folder``, else this checkout's, else one in the user's own home.

    In an installed course nobody should write into the installed files: the lessons are copied. What is in the folder
    already stays as it is.

    Raises
    ------
    FolderMissingError
        If the course has no lessons here.
    LabError
        If the folder cannot be written.
    """
    lessons = course_folder("lessons")
    if folder is None and in_checkout():
        return lessons
    own = (folder or Path.home() / "leg-to-leg" / "lessons").absolute()
    try:
        for path in sorted(lessons.rglob("*")):
            copy = own / path.relative_to(lessons)
            if path.is_file() and not copy.exists() and not set(path.parts[len(lessons.parts) :]) & {*NOT_COPIED}:
                write_whole(copy, path.read_bytes())
    except OSError as error:
        raise LabError(f"The lessons cannot be put into {own}: {error.strerror}. Name another: --folder.") from None
    return own


def open_lab(lessons: Path) -> int:
    """Start JupyterLab at the folder ``lessons`` and return its exit code when it is closed."""
    environment = lab_environment(Path(jupyter_config_dir()) / "leg-to-leg")
    return subprocess.run(lab_command(lessons), check=False, env=environment).returncode
