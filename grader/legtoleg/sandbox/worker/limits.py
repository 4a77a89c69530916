"""Limits of one notebook's processes: namespaces of their own, an empty desk, and no more than a fair share."""

from __future__ import annotations

import ctypes
import os
import resource
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from . import DESK

_USERS, PROCESSES = 0x10000000, 0x20000000
MOUNTS, SYSTEM_V, NETWORK, HOST_NAME = 0x00020000, 0x08000000, 0x40000000, 0x04000000
"""Namespaces (``CLONE_NEW…`` of Linux's sched.h)."""
_MS_BIND = 0x1000
_PR_SET_PDEATHSIG, _PR_SET_DUMPABLE, _PR_SET_NO_NEW_PRIVS = 1, 4, 38
_CAPABILITY_VERSION_3 = 0x20080522
_MEGABYTE = 1024 * 1024
_INSIDE_UID = 1000

_libc = ctypes.CDLL(None, use_errno=True)


def checked(result: int, what: str) -> None:
    """Do nothing if a call to the C library went well.

    Raises
    ------
    OSError
        If it did not: ``what`` was tried, and why it failed.
    """
    if result != 0:
        number = ctypes.get_errno()
        raise OSError(number, f"{what}: {os.strerror(number)}")


def _write(path: str, text: str) -> None:
    handle = os.open(path, os.O_WRONLY)
    try:
        os.write(handle, text.encode("ascii"))
    finally:
        os.close(handle)


def become_ordinary(uid: int) -> None:
    """Give up root for ``uid``, so that limits on processes bind; its own ``/proc`` entry stays writable."""
    os.setgroups([])
    os.setresgid(uid, uid, uid)
    os.setresuid(uid, uid, uid)
    checked(_libc.prctl(_PR_SET_DUMPABLE, 1, 0, 0, 0), "prctl")


def unshare(which: int) -> None:
    """Give this process namespaces of its own: ``which``.

    Raises
    ------
    OSError
        If this computer does not allow it.
    """
    checked(_libc.unshare(which), "unshare")


def unshare_users_and(which: int, inside: int) -> None:
    """Give this process users of its own, among whom it is ``inside``, and what else ``which`` names."""
    uid, gid = os.getuid(), os.getgid()
    unshare(_USERS | which)
    _write("/proc/self/setgroups", "deny")
    _write("/proc/self/uid_map", f"{inside} {uid} 1")
    _write("/proc/self/gid_map", f"{inside} {gid} 1")


def own_pid_namespace() -> None:
    """Give this process users of its own, and its coming children process namespaces of their own.

    Raises
    ------
    OSError
        If this computer does not allow it.
    """
    unshare_users_and(PROCESSES, inside=os.getuid())


@contextmanager
def child_pid_namespace(home: int) -> Iterator[None]:
    """Let a child forked inside be the first process of a world of its own; ``home`` is this process's own world.

    Raises
    ------
    OSError
        If this computer does not allow it.
    """
    unshare(PROCESSES)
    try:
        yield
    finally:
        checked(_libc.setns(home, PROCESSES), "setns")


def leave_home() -> None:
    """Give this process, just forked in a process namespace, users, mounts and a network of its own.

    Raises
    ------
    OSError
        If this computer does not allow it.
    """
    unshare_users_and(MOUNTS | SYSTEM_V | NETWORK | HOST_NAME, inside=_INSIDE_UID)


def _mount(kind: str, place: str, options: str) -> None:
    result = _libc.mount(kind.encode(), place.encode(), kind.encode(), 0, options.encode())
    checked(result, f"mount {place}")


def empty_desk(megabytes: int) -> None:
    """Put fresh memory folders where a notebook may write, and an empty one over ``/proc``: nobody else is there.

    ``/dev/zero`` gives nothing here: a shared mapping of it is memory that no limit counts.
    """
    checked(_libc.mount(b"/dev/null", b"/dev/zero", None, _MS_BIND, None), "mount /dev/zero")
    _mount("tmpfs", "/proc", "size=4k,nr_inodes=1,mode=0555")
    _mount("tmpfs", os.environ["HOME"], "size=4k,nr_inodes=1,mode=0555")
    _mount("tmpfs", "/dev/shm", f"size={megabytes}m,nr_inodes=256,mode=0777")
    _mount("tmpfs", DESK, f"size={megabytes}m,nr_inodes=4096,mode=0777")
    if not any(Path("/tmp").iterdir()):  # unless Python or the course themselves lie below it
        _mount("tmpfs", "/tmp", f"size={megabytes}m,nr_inodes=4096,mode=0777")
    os.environ.update(HOME=DESK, TMPDIR=DESK)
    os.chdir(DESK)


def die_with_parent() -> None:
    """Ask the system to end this process when the one that watches it ends."""
    checked(_libc.prctl(_PR_SET_PDEATHSIG, 9, 0, 0, 0), "prctl")


def give_up_rights() -> None:
    """Drop every capability, and gain none by running another program."""
    header = (ctypes.c_uint32 * 2)(_CAPABILITY_VERSION_3, 0)
    nothing = (ctypes.c_uint32 * 6)()
    checked(_libc.capset(header, nothing), "capset")
    checked(_libc.prctl(_PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0), "prctl")


def _own_megabytes() -> int:
    pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[0])
    return pages * resource.getpagesize() // _MEGABYTE


def set_limits(limits: dict[str, int]) -> None:
    """Set what one process may use: memory beyond what it has, processor time, file size, open files, processes.

    Processes are left alone where ``limits`` does not name them.
    """
    space = (_own_megabytes() + int(limits["megabytes"])) * _MEGABYTE
    wanted = {
        resource.RLIMIT_AS: space,
        resource.RLIMIT_CPU: int(limits["notebook_seconds"]) + 5,
        resource.RLIMIT_FSIZE: int(limits["file_megabytes"]) * _MEGABYTE,
        resource.RLIMIT_NOFILE: 128,
        resource.RLIMIT_CORE: 0,
        resource.RLIMIT_MSGQUEUE: 0,
    }
    if "processes" in limits:
        wanted[resource.RLIMIT_NPROC] = int(limits["processes"])
    for which, most in wanted.items():
        resource.setrlimit(which, (most, most))


def _status(processes: int, name: str) -> tuple[int, int]:
    """Return a process's parent and the kB that it holds alone or shares, from the open ``/proc`` folder."""
    handle = os.open(f"{name}/status", os.O_RDONLY, dir_fd=processes)
    try:
        text = os.read(handle, 4000)
    finally:
        os.close(handle)
    fields = {key: value.split() for key, _, value in (line.partition(b":") for line in text.splitlines())}
    held = sum(int(fields[kind][0]) for kind in (b"RssAnon", b"RssShmem") if kind in fields)
    return int(fields[b"PPid"][0]), held


def number_of(processes: int, handle: int) -> int:
    """Return the number by which the open ``/proc`` folder ``processes`` knows the process of a pid's ``handle``.

    Raises
    ------
    OSError
        If it does not know it.
    """
    about = os.open(f"self/fdinfo/{handle}", os.O_RDONLY, dir_fd=processes)
    try:
        lines = os.read(about, 4000).decode("ascii").splitlines()
    finally:
        os.close(about)
    number = next((int(line.split()[1]) for line in lines if line.startswith("Pid:")), 0)
    if number <= 0:
        raise OSError("a child of this process is not in /proc")
    return number


def megabytes_in_use(processes: int, tops: list[int]) -> list[float]:
    """Return the MB that each process of ``tops`` and all below it hold; ``processes`` is an open ``/proc`` folder.

    What a fork shares with its parent is counted for both, and so is memory that is shared on purpose.
    """
    found = processes_in(processes)
    return [sum(found[one][1] for one in household(top, found)) / 1024 for top in tops]


def processes_in(processes: int) -> dict[int, tuple[int, int]]:
    """Return every process of an open ``/proc`` folder by its number: its parent, and the kB that it holds."""
    found: dict[int, tuple[int, int]] = {}
    for name in os.listdir(processes):
        if name.isdigit():
            try:
                found[int(name)] = _status(processes, name)
            except (OSError, ValueError, IndexError, KeyError):
                continue  # it ended meanwhile
    return found


def household(top: int, found: dict[int, tuple[int, int]]) -> set[int]:
    """Return ``top`` and all processes below it that are ``found`` (by number: parent, kB)."""
    members: set[int] = set()
    waiting = [top]
    while waiting:
        one = waiting.pop()
        if one in found and one not in members:
            members.add(one)
            waiting += [number for number, (parent, _) in found.items() if parent == one]
    return members
