"""Desk work: what the board lets a process of its own do: take in, mark, report, deal, open and close tests."""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path

from dryerbench.core.errors import LegToLegError
from legtoleg.classroom.class_folder import ClassFolder
from legtoleg.classroom.receipts import kept_at, receipts_so_far
from legtoleg.classroom.sealed_dealing import CALLS
from legtoleg.classroom.sealed_marking import mark_calls
from legtoleg.classroom.sealed_opening import TEST_MINUTES, close_all, open_calls
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.dealing import deal_again
from legtoleg.cohort.marking_run import mark_cohort
from legtoleg.cohort.one_at_a_time import at_work
from legtoleg.collecting.collecting_run import collect_into
from legtoleg.core.files import write_whole
from legtoleg.report.report_run import write_report

SCHEDULER = "LEGTOLEG_SCHEDULER"
"""The environment variable with the address of a Dask cluster that runs the notebooks."""
TAKEN = "taken.json"
"""Beside the receipts: how many of them went through collecting."""


def take_in(folder: ClassFolder) -> int:
    """Take what was handed in since the last time through collecting; return how many hand-ins that were."""
    place = folder.root / TAKEN
    done = json.loads(place.read_text(encoding="ascii")) if place.is_file() else 0
    waiting = receipts_so_far(folder)[done:]
    for one in {(one.apprentice, one.lesson): one for one in waiting}.values():  # the last of each counts
        collect_into(folder.cohort, [kept_at(folder, one)], one.apprentice, one.lesson)
    if waiting:
        write_whole(place, str(done + len(waiting)).encode("ascii"))
    return len(waiting)


def _say(words: str, done: int = 0, of: int = 0) -> None:
    sys.stdout.write(json.dumps({"words": words, "done": done, "of": of}) + "\n")
    sys.stdout.flush()


def _mark(folder: ClassFolder) -> str:
    take_in(folder)
    tell = lambda what, done, of: _say(f"Grading: {what}", done, of or 0)
    summary = mark_cohort(folder.cohort.folder, scheduler=os.environ.get(SCHEDULER, ""), tell=tell, warn=_say)
    need = f" {len(summary.attention)} need you: {summary.attention[0]}" if summary.attention else ""
    return f"{summary.marked} graded, {summary.unchanged} had not changed.{need}"


def _close_and_mark(folder: ClassFolder) -> str:
    """Close every open test and mark those of calls; a refresher is its shop's to record."""
    tests = close_all(folder)
    said = []
    for one in tests:
        if one.kind != CALLS:
            said.append(f"{one.test}: to record it, legtoleg supervised record")
            continue
        taken = mark_calls(folder, one.test)
        there = [who for who in taken if who.took_part]
        away = f", {len(taken) - len(there)} took no part" if len(there) < len(taken) else ""
        said.append(f"{one.test}: {sum(who.passed for who in there)} of {len(there)} passed{away}")
    return f"{'; '.join(said)}. Write the report to see what counts." if said else "No test was open."


def work(folder: ClassFolder, what: str, who: str = "", more: str = "") -> str:
    """Do ``what`` (take-in, mark, report, deal, test-open, test-close) and return how it went, in words.

    ``more`` is the lesson of the new card, or for how many minutes a test is opened.

    Raises
    ------
    LegToLegError
        If it cannot be done.
    """
    if what == "take-in":
        return f"{take_in(folder)} taken in."
    if what == "mark":
        return _mark(folder)
    if what == "report":
        return f"The report is written: {write_report(folder.cohort).page.name}."
    if what == "test-open":
        whos = [who] if who else [person.id for person in folder.cohort.people()]
        test = open_calls(folder, whos, float(more or TEST_MINUTES))
        return f"{test.test} is open for {who or len(whos)}, for {test.minutes:g} minutes."
    if what == "test-close":
        return _close_and_mark(folder)
    name, number = deal_again(folder.cohort, who, more)
    return f"{who} has card {number} of {name}."


def main() -> None:
    """Do one piece of desk work; one at a time in a cohort."""
    folder = ClassFolder(Cohort.at(Path(sys.argv[1])))
    with at_work(folder.cohort.folder, _say):
        try:
            _say(work(folder, *sys.argv[2:5]))
        except LegToLegError as error:
            _say(str(error))
            sys.exit(2)


if __name__ == "__main__":
    main()
