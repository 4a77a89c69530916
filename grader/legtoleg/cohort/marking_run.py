"""The marking day: one command from hand-ins to book, marked notebooks and pages."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager
from pathlib import Path

from legtoleg.cohort.batch_marking import Marker, Pool, Summary, Tell, cores
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.gradebook import Book
from legtoleg.cohort.mending import mend
from legtoleg.core.one_thread import short_turns
from legtoleg.sandbox.thread_pool import local_pool


def _pool(workers: int, scheduler: str, *, made_up: bool) -> AbstractContextManager[Pool]:
    if scheduler:
        from legtoleg.sandbox.dask_pool import cluster_pool

        pool: AbstractContextManager[Pool] = cluster_pool(scheduler)
        return pool
    return local_pool(workers or cores(), made_up=made_up)


def mark_cohort(
    folder: Path,
    *,
    lesson: str | None = None,
    workers: int = 0,
    again: bool = False,
    scheduler: str = "",
    made_up: bool = False,
    tell: Tell = lambda *_: None,
    warn: Callable[[str], None] = lambda _: None,
) -> Summary:
    """Mark the cohort in ``folder``: what is new or changed, or with ``again`` everything.

    A cohort that was ``made_up`` by this course itself needs no isolation.

    Raises
    ------
    CohortError
        If there is no cohort in ``folder``.
    MarkingError
        If it cannot be marked.
    EngineError
        If notebooks cannot be run here.
    """
    cohort = Cohort.at(folder)
    for line in mend(cohort):
        warn(line)
    names = {person.id: person.name for person in cohort.people()}
    with short_turns(), Book(cohort.book) as book, _pool(workers, scheduler, made_up=made_up) as pool:
        if pool.warning:
            warn(pool.warning)
        try:
            return Marker(cohort, book, names).mark(pool, lesson=lesson, again=again, tell=tell)
        finally:
            book.correct_names(names)
