"""One thread for linear algebra: the circuits here are small, and threads that wait for one another cost far more."""

from __future__ import annotations

import os
from collections.abc import Mapping

ONE_THREAD: Mapping[str, str] = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}
"""What tells the libraries under NumPy to keep to one thread; they read it once, when NumPy is imported."""


def keep_to_one_thread() -> None:
    """Have NumPy, if it is not imported yet, work in one thread, unless the user has set another number."""
    for name, number in ONE_THREAD.items():
        os.environ.setdefault(name, number)
