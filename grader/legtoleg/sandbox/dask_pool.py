"""The cluster: the same jobs on a Dask scheduler's machines; each worker process keeps a warm engine of its own."""

from __future__ import annotations

import atexit
import threading
from collections.abc import Iterator
from concurrent.futures import Executor, Future
from contextlib import contextmanager
from dataclasses import dataclass, field

from dryerbench.core.errors import LegToLegError
from legtoleg.sandbox.engine import Engine, Job, Run
from legtoleg.sandbox.engine_choice import Chosen, choose_engine


class ClusterError(LegToLegError, RuntimeError):
    """A cluster that cannot be used; the text says what to do."""


@dataclass
class _Here:
    """The engine of this worker process, started by its first job."""

    lock: threading.Lock = field(default_factory=threading.Lock)
    chosen: Chosen | None = None

    def engine(self) -> Engine:
        with self.lock:
            if self.chosen is None:
                self.chosen = choose_engine(1)
                atexit.register(self.chosen.engine.close)
            return self.chosen.engine

    def warning(self) -> str:
        self.engine()
        return self.chosen.warning if self.chosen else ""


_HERE = _Here()


def run_here(job: Job) -> Run:
    """Run ``job`` in this worker's jail."""
    return _HERE.engine().run(job)


def warning_here() -> str:
    """Return what this worker does not protect from; empty if nothing."""
    return _HERE.warning()


@dataclass
class ClusterPool:
    """Runs jobs on a cluster's workers."""

    executor: Executor
    workers: int
    warning: str
    how: str = "on the cluster's workers, each as its own computer allows"

    def submit(self, job: Job) -> Future[Run]:
        """Send ``job`` to a free worker."""
        return self.executor.submit(run_here, job)


ANSWERS_WITHIN = 15.0
"""How long a scheduler has to answer [s]."""


@contextmanager
def cluster_pool(scheduler: str) -> Iterator[ClusterPool]:
    """Join the Dask cluster at address ``scheduler``.

    Raises
    ------
    ClusterError
        If ``distributed`` is not installed, or nobody answers, or there are no workers.
    """
    try:
        from distributed import Client
    except ImportError:
        raise ClusterError("For a cluster, install the extra: pip install -e “.[cluster]”.") from None
    try:
        client = Client(scheduler, timeout=ANSWERS_WITHIN, set_as_default=False)
    except (OSError, ValueError, TimeoutError):
        raise ClusterError(f"No Dask scheduler answers at {scheduler}. Start one, or leave --scheduler out.") from None
    with client:
        threads = sum(client.nthreads().values())
        if not threads:
            raise ClusterError(f"The scheduler at {scheduler} has no workers: start some, or leave --scheduler out.")
        warnings = {name: words for name, words in client.run(warning_here).items() if words}
        said = f"on {len(warnings)} of the cluster's workers: {next(iter(warnings.values()))}" if warnings else ""
        with client.get_executor(pure=False, retries=2) as executor:
            yield ClusterPool(executor, threads, said)
