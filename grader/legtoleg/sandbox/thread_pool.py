"""Pools: threads that each wait for one jailed notebook, so that several run at once."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass

from legtoleg.sandbox.engine import Engine, Job, Limits, Run
from legtoleg.sandbox.engine_choice import choose_engine


@dataclass
class LocalPool:
    """Runs jobs on this computer, ``workers`` at once."""

    engine: Engine
    workers: int
    threads: ThreadPoolExecutor
    warning: str = ""
    how: str = ""
    """In words, how each notebook is run."""

    def submit(self, job: Job) -> Future[Run]:
        """Start ``job`` as soon as a thread is free."""
        return self.threads.submit(self.engine.run, job)


@contextmanager
def local_pool(workers: int, limits: Limits | None = None, *, made_up: bool = False) -> Iterator[LocalPool]:
    """Start an engine and its threads; at the end no process is left behind. ``made_up``: no isolation is needed."""
    chosen = choose_engine(workers, limits, made_up=made_up)
    threads = ThreadPoolExecutor(chosen.workers, thread_name_prefix="notebook")
    try:
        yield LocalPool(chosen.engine, chosen.workers, threads, chosen.warning, chosen.how)
    finally:
        threads.shutdown(wait=False, cancel_futures=True)
        chosen.engine.close()
        threads.shutdown(wait=True)
