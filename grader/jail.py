"""The jail in which an apprentice's notebook runs: bubblewrap, with this Python and the lessons to read, no more."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import sysconfig
from functools import cache
from pathlib import Path

import dryerbench
from dryerbench.tables import datasets_folder

_SYSTEM = ("/usr", "/lib", "/lib64", "/bin", "/sbin", "/etc/ld.so.cache", "/etc/fonts", "/etc/localtime")

WORKPLACE = "/tmp/desk"  # noqa: S108 - a folder inside the jail, not of this computer
"""The empty folder in which a jailed notebook works; it is gone when the notebook ends."""


def python_folders() -> list[Path]:
    """Return the folders that this Python itself reads: its prefix, its packages, where its executable really is."""
    places = {
        Path(sys.prefix),
        Path(sys.base_prefix),
        Path(sysconfig.get_paths()["purelib"]),
        Path(sysconfig.get_paths()["stdlib"]),
        Path(sys.executable).resolve().parent.parent,
    }
    return sorted(place for place in places if place.is_dir())


def course_folders() -> list[Path]:
    """Return what a jailed notebook may read of the course: ``dryerbench`` and the tables."""
    return [Path(dryerbench.__file__).resolve().parent, datasets_folder()]


def jail_command(command: list[str], shared: Path, environment: dict[str, str]) -> list[str]:
    """Return ``command`` wrapped so that it runs jailed.

    No network, its own processes, an empty home; Python and the lessons read-only; ``shared`` to read and write (the
    kernel's sockets). Nothing else of this computer is there: no solutions, no grader, no book, no other hand-ins.
    """
    words = ["bwrap", "--unshare-all", "--die-with-parent", "--new-session", "--cap-drop", "ALL", "--clearenv"]
    words += ["--proc", "/proc", "--dev", "/dev", "--tmpfs", "/tmp", "--dir", WORKPLACE]  # noqa: S108
    for place in _SYSTEM:
        words += ["--ro-bind-try", place, place]
    for folder in (*python_folders(), *course_folders()):
        words += ["--ro-bind", str(folder), str(folder)]
    words += ["--bind", str(shared), str(shared), "--chdir", WORKPLACE]
    path = str(Path(dryerbench.__file__).resolve().parent.parent)
    inside = {"HOME": WORKPLACE, "PATH": os.defpath, "PYTHONPATH": path, "LANG": "C.UTF-8", **environment}
    for name, value in inside.items():
        words += ["--setenv", name, value]
    return [*words, "--", *command]


@cache
def available() -> bool:
    """Tell whether bubblewrap is here and may make a jail."""
    if shutil.which("bwrap") is None:
        return False
    try:
        done = subprocess.run(
            ["bwrap", "--unshare-all", "--ro-bind", "/", "/", "true"],  # noqa: S607
            check=False,
            capture_output=True,
            timeout=20,
        )
    except (OSError, subprocess.TimeoutExpired):
        return False
    return done.returncode == 0
