"""The watchdog: ends this process when a cell does not come back, even from code that is no Python and hears no signal.

On Linux it is a timer of the system's, made once for a notebook: it lets the C library's own ``_exit`` run, since the
first process of a namespace is spared by signals that it does not handle, SIGKILL among them. Elsewhere it is a thread.
"""

from __future__ import annotations

import ctypes
import faulthandler
import os
import signal
import sys
from typing import Protocol


class Watchdog(Protocol):
    """Ends this process when a cell does not come back although it was interrupted."""

    def start(self, seconds: float) -> None:
        """End this process in ``seconds``, unless started anew or stopped before."""

    def stop(self) -> None:
        """Let this process live."""


class _Event(ctypes.Structure):
    """``struct sigevent``, as far as it is told here."""

    _fields_ = (
        ("value", ctypes.c_void_p),
        ("number", ctypes.c_int),
        ("notify", ctypes.c_int),
        ("_", ctypes.c_char * 48),
    )


class _Times(ctypes.Structure):
    """``struct itimerspec``."""

    _fields_ = tuple((name, ctypes.c_long) for name in ("every", "every_ns", "first", "first_ns"))


_MONOTONIC, _BY_SIGNAL = 1, 0


class SystemTimer:
    """A POSIX timer of this process, which a fork does not take along: make it where the cells run."""

    def __init__(self) -> None:
        self._libc = ctypes.CDLL(None, use_errno=True)
        self._timer = ctypes.c_void_p()
        number = signal.SIGRTMAX
        self._libc.signal(number, ctypes.cast(self._libc["_exit"], ctypes.c_void_p))
        event = _Event(None, number, _BY_SIGNAL, b"")
        if self._libc.timer_create(_MONOTONIC, ctypes.byref(event), ctypes.byref(self._timer)) != 0:
            raise OSError(ctypes.get_errno(), "timer_create")

    def _set(self, seconds: float) -> None:
        whole = int(seconds)
        times = _Times(0, 0, whole, int((seconds - whole) * 1e9))
        self._libc.timer_settime(self._timer, 0, ctypes.byref(times), None)

    def start(self, seconds: float) -> None:
        """End this process in ``seconds``, unless started anew or stopped before."""
        self._set(seconds)

    def stop(self) -> None:
        """Let this process live."""
        self._set(0)


class WatchingThread:
    """Python's own watching thread, started and stopped for each cell."""

    def start(self, seconds: float) -> None:
        """End this process in ``seconds``, unless started anew or stopped before."""
        faulthandler.dump_traceback_later(seconds, exit=True, file=2)

    def stop(self) -> None:
        """Let this process live."""
        faulthandler.cancel_dump_traceback_later()


_MADE: list[Watchdog] = []
if hasattr(os, "register_at_fork"):
    os.register_at_fork(
        after_in_child=_MADE.clear
    )  # by its number a child cannot tell: each may be the first of a world


def make_watchdog() -> Watchdog:
    """Return the one watchdog of this process, the best that this system has."""
    if not _MADE:
        _MADE.append(_best())
    return _MADE[0]


def _best() -> Watchdog:
    if sys.platform == "linux":
        try:
            return SystemTimer()
        except (OSError, AttributeError):
            pass  # a C library of another kind
    return WatchingThread()
