"""Calls to the system that no notebook needs, refused: memory that no limit counts, and worlds of one's own.

The memory of a notebook is held to its limit by what each of its processes maps and holds. Memory with no file and no
owner (System V, ``memfd``, a shared mapping without a file) would stay outside of that; a child's own namespaces and
the keys of its user would outlast it or cost its neighbors theirs. The filter is classic BPF, as Linux's seccomp(2)
takes it; the numbers of the calls are those of the kernel's own tables (``unistd.h``) for each kind of processor.
"""

from __future__ import annotations

import ctypes
import errno
import platform
from collections.abc import Callable
from dataclasses import dataclass

_PR_SET_NO_NEW_PRIVS, _PR_SET_SECCOMP, _MODE_FILTER = 38, 22, 2
_LOAD, _EQUAL, _AT_LEAST, _AND, _RETURN = 0x20, 0x15, 0x35, 0x54, 0x06
_ALLOW, _REFUSE, _KILL = 0x7FFF0000, 0x00050000, 0x80000000
_CALL, _PROCESSOR, _ARGUMENTS = 0, 4, 16
"""Where ``struct seccomp_data`` holds the number of the call, the processor, and the arguments of 8 bytes each."""
_SHARED_WITHOUT_FILE = 0x01 | 0x20
"""``MAP_SHARED`` and ``MAP_ANONYMOUS``."""
_NEW_USERS = 0x10000000
_ON_THIS_COMPUTER = 1
"""``AF_UNIX``: any other socket may lead away from here."""
_FOREIGN = 0x40000000
"""From this number on, calls are those of another way of speaking to the same kernel (x32)."""


@dataclass(frozen=True)
class _Processor:
    """What the kernel calls one kind of processor, and its numbers of the calls that matter here."""

    name: int
    refused: tuple[int, ...]
    mmap: int
    clone: int
    socket: int
    clone3: int = 435


_EVERYWHERE = (425, 447)
"""``io_uring_setup``, ``memfd_secret``."""
_PROCESSORS = {
    # shmget, memfd_create, unshare, setns, mount, add_key, request_key, keyctl, bpf, userfaultfd, perf_event_open
    "x86_64": _Processor(
        0xC000003E, (29, 319, 272, 308, 165, 248, 249, 250, 321, 323, 298, *_EVERYWHERE), mmap=9, clone=56, socket=41
    ),
    "aarch64": _Processor(
        0xC00000B7, (194, 279, 97, 268, 40, 217, 218, 219, 280, 282, 241, *_EVERYWHERE), mmap=222, clone=220, socket=198
    ),
}


class _Step(ctypes.Structure):
    _fields_ = (("code", ctypes.c_uint16), ("yes", ctypes.c_uint8), ("no", ctypes.c_uint8), ("k", ctypes.c_uint32))


class _Program(ctypes.Structure):
    _fields_ = (("length", ctypes.c_uint16), ("steps", ctypes.POINTER(_Step)))


def _steps(here: _Processor) -> list[tuple[int, int, int, int]]:
    """Return the filter's steps: what to do, how many steps to leave out if it holds and if not, and a number."""
    first = _ARGUMENTS  # the low half of an argument, on a processor that puts it first
    steps = [
        (_LOAD, "", "", _PROCESSOR),
        (_EQUAL, "", "kill", here.name),
        (_LOAD, "", "", _CALL),
        (_AT_LEAST, "refuse", "", _FOREIGN),
        *((_EQUAL, "refuse", "", call) for call in here.refused),
        (_EQUAL, "unknown", "", here.clone3),  # its wishes cannot be read; the C library then asks by clone
        (_EQUAL, "", "not mmap", here.mmap),
        (_LOAD, "", "", first + 8 * 3),
        (_AND, "", "", _SHARED_WITHOUT_FILE),
        (_EQUAL, "refuse", "allow", _SHARED_WITHOUT_FILE),
    ]
    places = {"not mmap": len(steps)}
    steps += [
        (_EQUAL, "", "not clone", here.clone),
        (_LOAD, "", "", first),
        (_AND, "", "", _NEW_USERS),
        (_EQUAL, "refuse", "allow", _NEW_USERS),
    ]
    places["not clone"] = len(steps)
    steps += [
        (_EQUAL, "", "allow", here.socket),
        (_LOAD, "", "", first),
        (_EQUAL, "allow", "refuse", _ON_THIS_COMPUTER),
    ]
    for name, result in (
        ("allow", _ALLOW),
        ("refuse", _REFUSE | errno.EPERM),
        ("unknown", _REFUSE | errno.ENOSYS),
        ("kill", _KILL),
    ):
        places[name] = len(steps)
        steps.append((_RETURN, "", "", result))
    go: Callable[[str, int], int] = lambda name, step: places[name] - step - 1 if name else 0
    return [(code, go(yes, n), go(no, n), k) for n, (code, yes, no, k) in enumerate(steps)]


def _made() -> _Program | None:
    here = _PROCESSORS.get(platform.machine())
    if here is None:
        return None
    steps = [_Step(code, yes, no, k) for code, yes, no, k in _steps(here)]
    return _Program(len(steps), (_Step * len(steps))(*steps))


_PROGRAM = _made()
_libc = ctypes.CDLL(None, use_errno=True)


def refuse_calls() -> bool:
    """Refuse these calls to this process and all that it starts, for good; tell whether this computer can.

    Raises
    ------
    OSError
        If the kernel takes no such filter.
    """
    if _PROGRAM is None:
        return False
    for words in (
        (_PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0),
        (_PR_SET_SECCOMP, _MODE_FILTER, ctypes.addressof(_PROGRAM), 0, 0),
    ):
        if _libc.prctl(*map(ctypes.c_ulong, words)) != 0:
            number = ctypes.get_errno()
            raise OSError(number, f"refusing calls: errno {number}")
    return True
