"""Into the jail: a fork of root's enters the namespaces of a seat and becomes its user, with no right left."""

from __future__ import annotations

import ctypes
import os
import resource
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

_MOUNTS, _CONTROL_GROUPS, _HOST_NAME, _SYSTEM_V = 0x00020000, 0x02000000, 0x04000000, 0x08000000
_PROCESSES, _NETWORK = 0x20000000, 0x40000000
_ALL = _MOUNTS | _CONTROL_GROUPS | _HOST_NAME | _SYSTEM_V | _PROCESSES | _NETWORK
"""Namespaces (``CLONE_NEW…`` of Linux's sched.h)."""
_PR_SET_DUMPABLE, _PR_SET_NAME, _PR_CAPBSET_DROP = 4, 15, 24
_PR_SET_CHILD_SUBREAPER, _PR_SET_NO_NEW_PRIVS = 36, 38
_MOST_RIGHTS = 64

_libc = ctypes.CDLL(None, use_errno=True)


def _checked(result: int, what: str) -> None:
    if result != 0:
        number = ctypes.get_errno()
        raise OSError(number, f"{what}: {os.strerror(number)}")


def reap_orphans() -> None:
    """Let forks of forks be this process's to reap, where the first process of the computer does not do it."""
    _checked(_libc.prctl(_PR_SET_CHILD_SUBREAPER, 1, 0, 0, 0), "prctl")


def be_called(name: str) -> None:
    """Give this process a name in the list of processes."""
    _libc.prctl(_PR_SET_NAME, name.encode("ascii", "replace")[:15], 0, 0, 0)


def close_all_but(kept: Iterable[int]) -> None:
    """Close every open file but the three standard ones and ``kept``: one that leads outside would be a way out."""
    low = 3
    for handle in sorted(kept):
        os.closerange(low, handle)
        low = handle + 1
    os.closerange(low, resource.getrlimit(resource.RLIMIT_NOFILE)[0])


def join_groups(groups: Iterable[str]) -> None:
    """Enter this process into control groups, given by the files to write to.

    Raises
    ------
    OSError
        If one refuses it.
    """
    for place in groups:
        Path(place).write_text("0", encoding="ascii")


def enter(jail: int) -> int:
    """Enter the namespaces of the process ``jail`` and fork: return the child's number, and 0 in the child, inside.

    Raises
    ------
    OSError
        If the jail is gone, or the kernel is older than Linux 5.8.
    """
    handle = os.pidfd_open(jail)
    _checked(_libc.setns(handle, _ALL), "setns")
    os.close(handle)
    return os.fork()  # a process namespace is for children only


def become(user: int, limits: dict[str, int]) -> None:
    """Become ``user`` for good, held to ``limits`` (a resource's name: the most).

    Raises
    ------
    OSError
        If a right stays.
    """
    for right in range(_MOST_RIGHTS):
        _libc.prctl(_PR_CAPBSET_DROP, right, 0, 0, 0)
    os.setgroups([])
    for name, most in limits.items():
        resource.setrlimit(getattr(resource, f"RLIMIT_{name.upper()}"), (most, most))
    os.setresgid(user, user, user)
    os.setresuid(user, user, user)
    _checked(_libc.prctl(_PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0), "prctl")
    _checked(_libc.prctl(_PR_SET_DUMPABLE, 1, 0, 0, 0), "prctl")
    with suppress(PermissionError):
        os.setresuid(0, 0, 0)
        raise OSError("This process could become root again.")
