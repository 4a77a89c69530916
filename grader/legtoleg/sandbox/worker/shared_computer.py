"""A notebook on a computer that allows no namespaces: its limits, and no network.

It runs with the rights of whoever marks, or of an ordinary user if root can become one here: it can read what they can
read. So whoever is marked this way is said to be marked without isolation.
"""

from __future__ import annotations

import contextlib
import ctypes
import os
import resource
import signal
import sys
from pathlib import Path

from .limits import become_ordinary, checked, household, processes_in

_SUBREAPER = 36
_MORE_PROCESSES = 100
"""Beyond those that the user has already, of whom the system counts all."""


def _open_to_all(place: Path) -> bool:
    return all(folder.stat().st_mode & 0o001 for folder in place.resolve().parents)


def become_ordinary_if_possible(uid: int) -> None:
    """Give up root, where another user can read this Python and the course."""
    course = sys.modules["dryerbench"].__file__ or ""
    if os.getuid() == 0 and all(map(_open_to_all, (Path(sys.executable), Path(sys.base_prefix) / "lib", Path(course)))):
        become_ordinary(uid)


def adopt_orphans() -> None:
    """Become the parent of whatever a child leaves behind, so that it can be found and ended."""
    checked(ctypes.CDLL(None, use_errno=True).prctl(_SUBREAPER, 1, 0, 0, 0), "prctl")


def end_household(processes: int, top: int) -> None:
    """End ``top`` and all below it, by force."""
    for number in household(top, processes_in(processes)):
        with contextlib.suppress(OSError):
            os.kill(number, signal.SIGKILL)


def end_orphans(processes: int, known: set[int]) -> None:
    """End whatever this process is the parent of and does not know, and all below it."""
    found = processes_in(processes)
    for number, (parent, _) in found.items():
        if parent == os.getpid() and number not in known:
            end_household(processes, number)
            with contextlib.suppress(OSError):
                os.waitpid(number, 0)


def limit_processes(processes: int) -> None:
    """Let this user start no more than some processes beyond those that are there."""
    mine = os.getuid()
    there = 0
    for name in filter(str.isdigit, os.listdir(processes)):
        with contextlib.suppress(OSError):
            if os.stat(name, dir_fd=processes).st_uid == mine:
                there += sum(1 for _ in Path(f"/proc/{name}/task").iterdir())
    most = there + _MORE_PROCESSES
    _, hard = resource.getrlimit(resource.RLIMIT_NPROC)
    most = most if hard == resource.RLIM_INFINITY else min(most, hard)
    resource.setrlimit(resource.RLIMIT_NPROC, (most, most))
