"""One piece of work in a cohort at a time: a class's board and the command line take the same lock."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

WAITING = "Someone is at work in this cohort (the board of a class, or another command). Waiting until that is done."


@contextmanager
def at_work(folder: Path, say: Callable[[str], None] = lambda _: None) -> Iterator[None]:
    """Hold the cohort in ``folder``; while somebody else does, ``say`` so once, and wait.

    The lock is the kernel's on the folder: it is gone with the process that held it. On Windows, where no class runs,
    there is none; a folder that is not there is not held.
    """
    if sys.platform == "win32" or not folder.is_dir():
        yield
        return
    import fcntl

    handle = os.open(folder, os.O_RDONLY | os.O_CLOEXEC)
    try:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            say(WAITING)
            fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)
