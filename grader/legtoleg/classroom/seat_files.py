"""What a seat begins with: the kit of its apprentice, read-only, from which its home takes what it does not have."""

from __future__ import annotations

import json
import os
import shutil
from pathlib import Path

from dryerbench.core.identity import MARK, TRIES
from dryerbench.core.version import FIELD, course_version
from dryerbench.notebook.progress import MISSED, SIGNED
from legtoleg.classroom.class_folder import ClassError, ClassFolder
from legtoleg.classroom.sealed_page import SUPERVISED, supervised_page
from legtoleg.cohort.kit import kit_files, stamped
from legtoleg.core.files import write_whole
from legtoleg.core.lab_settings import FIRST_VIEW, FIRST_VIEW_FILE, SETTINGS, SWITCHED_OFF

FIRST_UID = 70_000
"""The first user of a seat, where root starts it: far from the users of this computer."""
FEEDBACK = "feedback"
WORKSPACES = ".jupyter/lab/workspaces"
"""Where a home keeps how JupyterLab's window stood."""
SERVER = {
    "ServerApp": {
        "jpserver_extensions": {
            "jupyterlab": True,
            "jupyter_lsp": False,
            "jupyter_server_terminals": False,
            "jupyterlab_jupytext": False,
            "jupytext": False,
            "nbgrader": False,
            "nbgrader.server_extensions.assignment_list": False,
            "nbgrader.server_extensions.course_list": False,
            "nbgrader.server_extensions.formgrader": False,
            "nbgrader.server_extensions.validate_assignment": False,
            "notebook": False,
            "notebook_shim": False,
        },
        "terminals_enabled": False,
        "shutdown_no_activity_timeout": 3600,
    },
    "LabApp": {"check_for_updates_class": "jupyterlab.NeverCheckForUpdate", "extension_manager": "readonly"},
    "MappingKernelManager": {"cull_idle_timeout": 3600, "cull_interval": 300},
}
"""A seat's server: what a lesson needs, which takes half the memory; kernels and seats that nobody uses end."""


def _json(content: object) -> bytes:
    return (json.dumps(content, indent=1) + "\n").encode("utf-8")


def pack_seat(folder: ClassFolder, apprentice: str) -> Path:
    """Write or renew what the home of ``apprentice`` begins with, and return its folder."""
    kit = folder.kits / apprentice
    kit.mkdir(mode=0o755, exist_ok=True)
    write_whole(kit / MARK, _json({"apprentice": apprentice, FIELD: course_version()}))
    for source, name in kit_files():
        inside = Path(name)
        if inside.parts[0] != "lessons" or "dryerbench" in inside.parts:
            continue
        content = stamped(source, apprentice).encode("utf-8") if source.suffix == ".ipynb" else source.read_bytes()
        if not (kit / inside).is_file() or (kit / inside).read_bytes() != content:
            write_whole(kit / inside, content)
    write_whole(kit / "lessons" / SUPERVISED, supervised_page())
    write_whole(kit / WORKSPACES / FIRST_VIEW_FILE, _json(FIRST_VIEW))
    for name in (SIGNED, MISSED, TRIES):
        if not (kit / name).is_symlink():
            (kit / name).symlink_to(f"{FEEDBACK}/{name}")
    return kit


def home_of(folder: ClassFolder, apprentice: str) -> tuple[Path, int]:
    """Return the home of ``apprentice`` and the user whose it is, made the first time.

    Raises
    ------
    ClassError
        If something else stands where the home should be.
    """
    home = folder.homes / apprentice
    if not home.is_symlink() and not home.exists():
        taken = [place.lstat().st_uid for place in folder.homes.iterdir()]
        home.mkdir(mode=0o700)
        if os.getuid() == 0:
            user = max([FIRST_UID - 1, *taken]) + 1
            os.chown(home, user, user)
    about = home.lstat()
    if home.is_symlink() or not home.is_dir() or (os.getuid() == 0 and about.st_uid < FIRST_UID):
        raise ClassError(f"{home} is no seat's home: its owner is user {about.st_uid}. Move it away, then start again.")
    return home, about.st_uid


def feedback_of(folder: ClassFolder, apprentice: str) -> Path:
    """Return the folder of the cohort in which feedback for ``apprentice`` comes, made if it is not there."""
    place = folder.cohort.folder / FEEDBACK / apprentice
    place.mkdir(parents=True, exist_ok=True)
    return place


def settings_folder(folder: ClassFolder) -> Path:
    """Write the settings of every seat's server, and return their folder."""
    place = folder.root / "settings"
    shutil.rmtree(place, ignore_errors=True)
    for name, values in SETTINGS.items():
        write_whole(place / "lab" / "@jupyterlab" / f"{name}.jupyterlab-settings", _json(values))
    write_whole(place / "config" / "labconfig" / "page_config.json", _json(SWITCHED_OFF))
    write_whole(place / "config" / "jupyter_server_config.json", _json(SERVER))
    return place
