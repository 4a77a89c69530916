"""Threads that do not wait for one another: one for linear algebra, and short turns for those that share Python.

The circuits here are small, and threads that wait for one another cost far more than they bring.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager

ONE_THREAD: Mapping[str, str] = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}
"""What tells the libraries under NumPy to keep to one thread; they read it once, when NumPy is imported."""


def keep_to_one_thread() -> None:
    """Have NumPy, if it is not imported yet, work in one thread, unless the user has set another number."""
    for name, number in ONE_THREAD.items():
        os.environ.setdefault(name, number)


_TURN = 0.0005
"""Seconds of a turn while answers are judged beside waiting notebooks.

Each call into NumPy gives Python's lock away, and gets it back at the end of another thread's turn; with the usual
5 ms that wait is many times the call.
"""


@contextmanager
def short_turns() -> Iterator[None]:
    """Have Python's threads change over every half millisecond; afterwards as before."""
    before = sys.getswitchinterval()
    sys.setswitchinterval(min(before, _TURN))
    try:
        yield
    finally:
        sys.setswitchinterval(before)
