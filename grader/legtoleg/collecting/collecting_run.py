"""One run of collect: what the instructor settled first, then what came, then the page and the CSV of what is open."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from dryerbench.core.errors import LegToLegError
from legtoleg.cohort.cohort_folder import ROSTER, Cohort
from legtoleg.collecting import settling
from legtoleg.collecting.collecting import Collector, Taken
from legtoleg.collecting.what_came_page import write_what_came
from legtoleg.core.file_trouble import plainly
from legtoleg.core.lesson_choice import lesson_called
from legtoleg.intake.roster import id_called


class CollectError(LegToLegError, ValueError):
    """A collect that cannot begin; the text says why."""


@dataclass
class Collected:
    """What became of all files of one run, where the page is, and how many files need a person, older ones too."""

    page: Path
    taken: list[Taken] = field(default_factory=list)
    open: int = 0
    warnings: list[str] = field(default_factory=list)


def collect_into(
    cohort: Cohort,
    paths: list[Path],
    said: str = "",
    lesson: str = "",
    tell: Callable[[Taken, int], None] = lambda *_: None,
) -> Collected:
    """Take ``paths`` into ``cohort``; ``said`` and ``lesson`` settle whose they all are, and which lesson.

    Raises
    ------
    CollectError
        If ``said`` is nobody on the roster, ``lesson`` none of the cohort's, or a file cannot be written.
    """
    meant = lesson_called(lesson, cohort.lessons(), CollectError, " in this cohort") if lesson else ""
    who = id_called(said, [person.id for person in cohort.people()], ROSTER, CollectError) if said else ""
    collector = Collector(cohort, who, meant)
    try:
        written = settling.read_settled(cohort.folder)
        collected = Collected(cohort.folder)
        _take(collector, paths, written, collected, tell)
    except OSError as error:
        raise CollectError(
            f"Collect stopped. {plainly(error)} What was taken in before that stays; then run collect again."
        ) from None
    return collected


def _take(
    collector: Collector,
    paths: list[Path],
    written: dict[str, settling.Said],
    collected: Collected,
    tell: Callable[[Taken, int], None],
) -> None:
    folder = collector.cohort.folder
    try:
        collected.taken += settling.apply(collector, written)
        for one in collector.collect(paths):
            collected.taken.append(one)
            tell(one, len(collected.taken))
    finally:
        collector.save()
    held = collector.arrivals.open()
    collected.open = len(held)
    collected.page = write_what_came(list(collector.arrivals.all.values()), collector.people, folder)
    collected.warnings += settling.not_understood(folder, collector.arrivals.all)
    try:
        settling.write_open(folder, [one for one in held if one.digest], written)
    except OSError as error:
        collected.warnings.append(
            f"{settling.FILE} could not be written ({error.strerror}): close it and run collect again."
        )
