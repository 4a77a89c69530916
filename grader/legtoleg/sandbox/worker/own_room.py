"""A room made by this Python itself: what bubblewrap does, where the system allows it and bubblewrap is not there.

It takes the same words as bubblewrap, those of them that ``jail`` uses, so that what a notebook may see is written in
one place. Root makes the namespaces with its own rights; an ordinary user makes users of its own first (see
user_namespaces(7), mount_namespaces(7), pivot_root(2), mount_setattr(2)). A kernel that does not allow one of the steps
ends it with a line that says which.
"""

from __future__ import annotations

import ctypes
import os
import platform
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import NoReturn

from .limits import (
    HOST_NAME,
    MOUNTS,
    NETWORK,
    PROCESSES,
    SYSTEM_V,
    checked,
    die_with_parent,
    unshare,
    unshare_users_and,
)

_libc = ctypes.CDLL(None, use_errno=True)
_BIND, _RECURSIVE, _SLAVE, _NO_SUID, _NO_DEVICES, _NO_PROGRAMS = 0x1000, 0x4000, 0x80000, 2, 4, 8
_DETACH = 2
_PIVOT_ROOT = {"x86_64": 155, "aarch64": 41}
_MOUNT_SETATTR = 442
_AT_HERE, _AT_RECURSIVE = -100, 0x8000
_READ_ONLY, _NO_SUID_ATTR, _NO_DEVICES_ATTR = 1, 2, 4
_DROP_FROM_BOUNDING, _NO_NEW_PRIVILEGES = 24, 38
_BASE, _NEW, _OLD = "/tmp", "/new", "/old"
_DEVICES = ("null", "zero", "full", "random", "urandom", "tty")
_BECOME_ANOTHER = ("CAP_SETUID", "CAP_SETGID")
_NUMBERS = {"CAP_SETGID": 6, "CAP_SETUID": 7}
_ARGUMENTS = {"--ro-bind": 2, "--ro-bind-try": 2, "--setenv": 2} | dict.fromkeys(
    ("--proc", "--dev", "--dir", "--tmpfs", "--perms", "--remount-ro", "--chdir", "--cap-drop", "--cap-add"), 1
)

Wish = tuple[str, list[str]]


def wishes(words: list[str]) -> tuple[list[Wish], list[str]]:
    """Return what bubblewrap's ``words`` ask for, one by one, and the command behind them.

    Raises
    ------
    ValueError
        If they are not those words, or some are missing.
    """
    found: list[Wish] = []
    left = list(words)
    while left:
        word = left.pop(0)
        if word == "--":
            return found, left
        if not word.startswith("--"):
            raise ValueError(f"{word!r} is no wish")
        count = _ARGUMENTS.get(word, 0)
        found.append((word, left[:count]))
        del left[:count]
    raise ValueError("there is no command")


def _mount(source: str | None, place: str, kind: str | None, flags: int, options: str = "") -> None:
    coded = [None if text is None else os.fsencode(text) for text in (source, place, kind)]
    checked(_libc.mount(*coded, ctypes.c_ulong(flags), options.encode()), f"mount {place}")


class _Attributes(ctypes.Structure):
    """``struct mount_attr``."""

    _fields_ = tuple((name, ctypes.c_uint64) for name in ("set", "clear", "propagation", "users"))


def _read_only(place: str, *, below: bool) -> None:
    wanted = _Attributes(_READ_ONLY | (_NO_SUID_ATTR | _NO_DEVICES_ATTR if below else 0), 0, 0, 0)
    result = _libc.syscall(
        _MOUNT_SETATTR,
        _AT_HERE,
        os.fsencode(place),
        _AT_RECURSIVE if below else 0,
        ctypes.byref(wanted),
        ctypes.c_size_t(ctypes.sizeof(wanted)),
    )
    checked(int(result), f"read-only {place}")


def _pivot(new: str, old: str) -> None:
    checked(int(_libc.syscall(_PIVOT_ROOT[platform.machine()], new.encode(), old.encode())), "pivot_root")


def _own_namespaces() -> None:
    which = MOUNTS | PROCESSES | NETWORK | SYSTEM_V | HOST_NAME
    if os.getuid() == 0:
        unshare(which)
    else:
        unshare_users_and(which, inside=os.getuid())


def _first_of_its_own() -> None:
    """Return in the first process of the new namespace; the one that came here waits for it and ends as it does."""
    pid = os.fork()
    if pid:
        nowhere = os.open("/dev/null", os.O_RDWR)
        os.dup2(nowhere, 0)
        _, status = os.waitpid(pid, 0)
        os._exit(os.waitstatus_to_exitcode(status) & 0xFF)
    die_with_parent()
    os.setsid()


def _place(path: str, *, folder: bool, mode: int = 0o755) -> str:
    """Return where ``path`` stands in the room to be; it and the folders above it are made."""
    inside = Path(_NEW, path.lstrip("/"))
    inside.parent.mkdir(parents=True, exist_ok=True)
    if not inside.exists():
        if folder:
            inside.mkdir()
            inside.chmod(mode)
        else:
            inside.touch()
    return str(inside)


def _show(source: str, path: str) -> None:
    """Show this computer's ``source`` as ``path``, to be read only."""
    here = f"{_OLD}{source}"
    place = _place(path, folder=Path(here).is_dir())
    _mount(here, place, None, _BIND | _RECURSIVE)
    if Path(here).is_dir() or Path(here).is_file():
        _read_only(place, below=True)


def _devices(path: str) -> None:
    place = _place(path, folder=True)
    _mount("tmpfs", place, "tmpfs", _NO_SUID, "mode=0755,size=4m")
    for name in _DEVICES:
        _mount(f"{_OLD}/dev/{name}", _place(f"{path}/{name}", folder=False), None, _BIND)
    Path(place, "shm").mkdir()
    for name, number in (("stdin", 0), ("stdout", 1), ("stderr", 2)):
        Path(place, name).symlink_to(f"/proc/self/fd/{number}")
    Path(place, "fd").symlink_to("/proc/self/fd")


def _build(asked: list[Wish]) -> None:
    """Build the room below ``_NEW``, wish by wish."""
    mode = ""
    for word, values in asked:
        if word == "--perms":
            mode = values[0]
            continue
        if word in ("--ro-bind", "--ro-bind-try"):
            if values[0] or word == "--ro-bind":
                _show(*values)
        elif word == "--tmpfs":
            _mount("tmpfs", _place(values[0], folder=True), "tmpfs", _NO_SUID | _NO_DEVICES, f"mode={mode or '0755'}")
        elif word == "--dir":
            _place(values[0], folder=True, mode=int(mode or "0755", 8))
        elif word == "--proc":
            _mount("proc", _place(values[0], folder=True), "proc", _NO_SUID | _NO_DEVICES | _NO_PROGRAMS)
        elif word == "--dev":
            _devices(values[0])
        elif word == "--remount-ro":
            _read_only(str(Path(_NEW, values[0].lstrip("/"))), below=False)
        mode = ""


def _where_it_really_is(asked: list[Wish]) -> Iterator[Wish]:
    """Follow the links of what is to be shown while they lead where they should; what is not there becomes empty."""
    for word, values in asked:
        if word.startswith("--ro-bind"):
            source = Path(values[0])
            yield word, [str(source.resolve()) if source.exists() else "", values[1]]
        else:
            yield word, values


def _move_in(asked: list[Wish]) -> None:
    _mount(None, "/", None, _RECURSIVE | _SLAVE)
    _mount("tmpfs", _BASE, "tmpfs", _NO_SUID | _NO_DEVICES, "mode=0755")
    for name in (_NEW, _OLD):
        Path(f"{_BASE}{name}").mkdir()
    _mount("tmpfs", f"{_BASE}{_NEW}", "tmpfs", _NO_SUID | _NO_DEVICES, "mode=0755")
    _pivot(_BASE, f"{_BASE}{_OLD}")
    os.chdir("/")
    _build(asked)
    checked(_libc.umount2(_OLD.encode(), _DETACH), "umount")
    os.chdir(_NEW)
    _pivot(".", ".")
    checked(_libc.umount2(b".", _DETACH), "umount")
    os.chdir("/")


def _keep_only(rights: list[str]) -> None:
    """Take every right but ``rights`` from whatever this process runs."""
    kept = {_NUMBERS[name] for name in rights}
    for number in range(64):
        if number not in kept:
            _libc.prctl(_DROP_FROM_BOUNDING, number, 0, 0, 0)
    checked(_libc.prctl(_NO_NEW_PRIVILEGES, 1, 0, 0, 0), "prctl")


def enter(words: list[str]) -> NoReturn:
    """Make the room that ``words`` describe and run their command in it.

    Raises
    ------
    OSError
        If this computer does not allow it.
    """
    asked, command = wishes(words)
    asked = list(_where_it_really_is(asked))
    os.umask(0o022)
    _own_namespaces()
    _first_of_its_own()
    _move_in(asked)
    _keep_only([values[0] for word, values in asked if word == "--cap-add"])
    os.execve(command[0], command, dict(values for word, values in asked if word == "--setenv"))


if __name__ == "__main__":
    try:
        enter(sys.argv[1:])
    except (OSError, ValueError, KeyError) as error:
        sys.exit(f"{error}")
