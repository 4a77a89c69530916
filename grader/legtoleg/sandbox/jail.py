"""The jail in which an apprentice's notebook runs: bubblewrap, with this Python and the lessons to read, no more."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import sysconfig
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import dryerbench
from dryerbench.core.tables import datasets_folder
from legtoleg.core.one_thread import ONE_THREAD
from legtoleg.core.paths import PACKAGE, private_folders
from legtoleg.sandbox.worker import DESK

SYSTEM = ("/usr", "/lib", "/lib64", "/bin", "/sbin", "/etc/ld.so.cache", "/etc/fonts", "/etc/localtime")

WORKPLACE = "/tmp/desk"
"""The empty folder in which a jailed notebook works; it is gone when the notebook ends."""

ROOM = "/run/leg-to-leg"
"""Where the course stands inside the jail of the warm parent: lessons, datasets, and the code of ``worker``."""

WARM_HOME = "/run/warm"
"""Where the warm parent keeps its fonts' index; each notebook gets an empty folder over it."""

QUIET = {
    "MPLBACKEND": "agg",
    "PYTHONDONTWRITEBYTECODE": "1",
    "PYTHONSAFEPATH": "1",
    "LANG": "C.UTF-8",
    **ONE_THREAD,
}
"""The environment of every warm parent: no screen, one thread, nothing written beside the lessons, nothing
imported from where the command was given."""

_NOT_HERE = Path(__file__).resolve().parent / "not_here.txt"
"""What an import of the marker finds where the marker is hidden."""

ORDINARY_UID = 64_203
"""The user that a warm parent becomes if it was started by root: one that owns nothing."""


def python() -> str:
    """Return this Python as a path that stands in a jail too: its folder as it really is, its own name kept."""
    named = Path(sys.executable)
    return str(named.parent.resolve() / named.name)


def python_folders() -> list[Path]:
    """Return the folders that this Python itself reads: its prefix, its packages, where its executable really is."""
    places = {
        Path(sys.prefix),
        Path(sys.base_prefix),
        Path(sysconfig.get_paths()["purelib"]),
        Path(sysconfig.get_paths()["stdlib"]),
        Path(sys.executable).resolve().parent.parent,
    }
    whole = {place for place in places if ".." not in place.parts} | {place.resolve() for place in places}
    return sorted(place for place in whole if place.is_dir())


def course_folders() -> list[Path]:
    """Return what a jailed notebook may read of the course: ``dryerbench`` and the tables."""
    return [Path(dryerbench.__file__).resolve().parent, datasets_folder()]


def hidden(shown: list[Path]) -> list[str]:
    """Return the words that put an empty folder over whatever is the marker's inside the folders ``shown``.

    In an installed course the marker's package lies beside the lessons' one, in a folder that Python reads: there
    reference answers would be one import away. Each place is hidden under every name by which it can be reached. An
    empty folder could still be imported, as a package with nothing in it: so the marker's says that it is not here.
    """
    places = {
        folder / private.relative_to(folder.resolve())
        for folder in shown
        for private in map(Path.resolve, private_folders())
        if private.is_relative_to(folder.resolve())
    }
    words: list[str] = []
    for place in sorted(places):
        words += ["--perms", "0555", "--tmpfs", str(place)]
        if place.name == PACKAGE.name:
            words += ["--ro-bind", str(_NOT_HERE), str(place / "__init__.py")]
        words += ["--remount-ro", str(place)]
    return words


def jail_command(command: list[str], shared: Path, environment: dict[str, str]) -> list[str]:
    """Return ``command`` wrapped so that it runs jailed.

    No network, its own processes, an empty home; Python and the lessons read-only; ``shared`` to read and write (the
    kernel's sockets). Nothing else of this computer is there: no solutions, no marker, no book, no other hand-ins.
    """
    words = ["bwrap", "--unshare-all", "--die-with-parent", "--new-session", "--cap-drop", "ALL", "--clearenv"]
    words += ["--proc", "/proc", "--dev", "/dev", "--tmpfs", "/tmp", "--dir", WORKPLACE]
    for place in SYSTEM:
        words += ["--ro-bind-try", place, place]
    for folder in (*python_folders(), *course_folders()):
        words += ["--ro-bind", str(folder), str(folder)]
    words += hidden([*map(Path, SYSTEM), *python_folders(), *course_folders()])
    words += ["--bind", str(shared), str(shared), "--chdir", WORKPLACE]
    path = str(Path(dryerbench.__file__).resolve().parent.parent)
    inside = {"HOME": WORKPLACE, "PATH": os.defpath, "PYTHONPATH": path, "LANG": "C.UTF-8", **environment}
    for name, value in inside.items():
        words += ["--setenv", name, value]
    return [*words, "--", *command]


def _parents(folders: list[Path]) -> list[str]:
    """Return the folders above ``folders``, made passable for everybody inside the jail."""
    above = {str(parent) for folder in folders for parent in folder.parents if str(parent) != "/"}
    return [word for place in sorted(above) for word in ("--perms", "0755", "--dir", place)]


def worker_command(seconds: int, megabytes: int) -> list[str]:
    """Return the command of the warm parent in its jail; its standard input is the socket that it is asked by.

    Root keeps only the right to become an ordinary user, which the warm parent does at once. Nothing here is
    writable; each notebook gets memory folders of its own.
    """
    folders = python_folders()
    course = {str(course_folders()[0]): f"{ROOM}/lessons/dryerbench", str(course_folders()[1]): f"{ROOM}/datasets"}
    course[str(Path(__file__).resolve().parent / "worker")] = f"{ROOM}/worker"
    words = ["bwrap", "--new-session", "--clearenv", "--cap-drop", "ALL"]
    if os.getuid() == 0:
        words += ["--unshare-pid", "--unshare-net", "--unshare-ipc", "--unshare-uts"]
        words += ["--cap-add", "CAP_SETUID", "--cap-add", "CAP_SETGID"]
    else:
        words += ["--unshare-all"]
    words += ["--proc", "/proc", "--dev", "/dev", "--perms", "1777", "--dir", "/tmp"]
    words += _parents([*folders, *map(Path, course.values())])
    words += ["--perms", "0755", "--dir", DESK, "--perms", "1777", "--tmpfs", WARM_HOME]
    for place in SYSTEM:
        words += ["--ro-bind-try", place, place]
    for here, inside in [*((str(folder), str(folder)) for folder in folders), *course.items()]:
        words += ["--ro-bind", here, inside]
    words += hidden([*map(Path, SYSTEM), *folders])
    words += ["--remount-ro", "/dev", "--remount-ro", "/", "--chdir", "/"]
    variables = {
        "HOME": WARM_HOME,
        "IPYTHONDIR": f"{WARM_HOME}/.ipython",
        "MPLCONFIGDIR": f"{WARM_HOME}/.matplotlib",
        "PATH": os.defpath,
        "PYTHONPATH": os.pathsep.join([f"{ROOM}/lessons", ROOM]),
        **QUIET,
    }
    for name, value in variables.items():
        words += ["--setenv", name, value]
    return [*words, "--", python(), "-m", "worker.parent", str(seconds), str(megabytes), str(ORDINARY_UID)]


@dataclass(frozen=True)
class Way:
    """One way of running a warm parent: what shuts the notebooks in, in words, and whether it isolates them."""

    name: str
    words: str
    isolates: bool


BUBBLEWRAP = Way("bubblewrap", "each in a jail of its own, made by bubblewrap", isolates=True)
NAMESPACES = Way("namespaces", "each in a jail of its own, made by this Python", isolates=True)
SHARED = Way("shared", "each in a limited process, without isolation", isolates=False)


def warm_parent(way: Way, seconds: int, megabytes: int) -> tuple[list[str], dict[str, str] | None]:
    """Return the command of the warm parent by ``way``, and its environment where it is not in the command."""
    if way == BUBBLEWRAP:
        return worker_command(seconds, megabytes), None
    here = Path(__file__).resolve().parent
    if way == NAMESPACES:
        words = worker_command(seconds, megabytes)[1:]
        return [python(), "-m", "worker.own_room", *words], {"PYTHONPATH": str(here), "PATH": os.defpath}
    path = [str(Path(dryerbench.__file__).resolve().parent.parent), str(here)]
    variables = {**QUIET, "PATH": os.environ.get("PATH", os.defpath), "PYTHONPATH": os.pathsep.join(path)}
    return [python(), "-m", "worker.parent", str(seconds), str(megabytes), str(ORDINARY_UID), "shared"], variables


@cache
def available() -> bool:
    """Tell whether bubblewrap is here and may make a jail."""
    if shutil.which("bwrap") is None:
        return False
    try:
        done = subprocess.run(
            ["bwrap", "--unshare-all", "--ro-bind", "/", "/", "true"],
            check=False,
            capture_output=True,
            timeout=20,
        )
    except (OSError, subprocess.TimeoutExpired):
        return False
    return done.returncode == 0
