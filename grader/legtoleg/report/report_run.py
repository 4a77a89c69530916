"""One run of report: what is there is read; page, workbook and CSV files are written; troubles are said."""

from __future__ import annotations

import platform
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from urllib.parse import quote

from dryerbench.core.errors import LegToLegError
from dryerbench.core.version import course_version
from dryerbench.registry import SHEETS
from legtoleg.cohort import cohort_config
from legtoleg.cohort.cohort_folder import ROSTER, Cohort
from legtoleg.cohort.marking_cache import MarkedLine, MarkingCache
from legtoleg.cohort.mending import lost_hand_ins
from legtoleg.core.files import write_whole
from legtoleg.core.outside_words import plain_words
from legtoleg.core.try_ledger import FOLDER as TRIES
from legtoleg.core.try_ledger import TryLedger
from legtoleg.intake.roster import Person, RosterError
from legtoleg.report.answer_cells import given_out
from legtoleg.report.cohort_statistics import CohortNumbers, cohort_numbers
from legtoleg.report.hand_in_fates import Who, fates_of
from legtoleg.report.integrity_facts import facts_of
from legtoleg.report.marks_reading import read_marks, released
from legtoleg.report.report_page import page_text
from legtoleg.report.report_tables import WIDE, csv_bytes, for_people, tables, wide_table, workbook_bytes
from legtoleg.report.supervised_calls import read_results
from legtoleg.report.three_parts import Witnesses
from legtoleg.witness.witness_record import witnessed

_NOT_NOTED = "not noted"
Lines = dict[Who, MarkedLine]


@dataclass(frozen=True)
class Written:
    """What was written: the page, the workbook, the CSV files; the numbers in them, and what went wrong, in lines."""

    page: Path
    workbook: Path
    tables: list[Path]
    numbers: CohortNumbers
    troubles: list[str]


def seen_at_a_machine(folder: Path) -> dict[str, str]:
    """Return who passed all steps on a real machine, by id: when and by whom, from the cohort's witness record."""
    return {who: one.words.removeprefix("seen ") for who, one in witnessed(folder).items() if one.passed}


def about(cohort: Cohort, lines: Lines) -> list[tuple[str, str]]:
    """Return which versions of the course made this report, the cohort, and its marks."""
    made, set_up = cohort_config.versions(cohort.folder)
    marked = sorted({line.course or _NOT_NOTED for line in lines.values()})
    return [
        ("course, this report", course_version()),
        ("Python, this report", platform.python_version()),
        ("course, the cohort was made with", made or _NOT_NOTED),
        ("course, the cohort was set up last with", set_up or _NOT_NOTED),
        ("course, the hand-ins were graded with", ", ".join(marked) or "nothing is graded"),
    ]


def _people(cohort: Cohort) -> tuple[list[Person], list[str]]:
    """Return who is on the roster, and in words if it cannot be read; then everybody is named by id."""
    roster = cohort.folder / ROSTER
    if not roster.is_file() and (cohort.folder / "submitted").is_dir():
        again = f"legtoleg cohort {cohort.folder.name} --roster FILE"
        return [], [f"{ROSTER} is gone: everyone is named by id. Give the cohort its roster again: {again}."]
    try:
        return cohort.people(), []
    except RosterError as error:
        first, _, more = str(error).partition("\n")
        lines = len(more.splitlines()) + 1
        rest = "" if lines == 1 else f" ({lines} such lines)"
        return [], [f"The roster cannot be used: {first}{rest} Everyone is named by id."]


def _versions(lines: Lines) -> list[str]:
    """Return, in words, that hand-ins were marked by several versions of the course; nothing if by one."""
    found: dict[str, int] = {}
    for line in lines.values():
        found[line.course or _NOT_NOTED] = found.get(line.course or _NOT_NOTED, 0) + 1
    if len(found) < 2:
        return []
    said = ", ".join(f"{plain_words(name, 40)} ({count} hand-ins)" for name, count in sorted(found.items()))
    return [f"Grades from several versions of the course are side by side: {said}. To have one: legtoleg mark --again."]


def numbers_of(cohort: Cohort, witnesses: Witnesses = seen_at_a_machine) -> CohortNumbers:
    """Return the numbers of a cohort; what cannot be read is said in its troubles, and the rest is in it."""
    people, troubles = _people(cohort)
    troubles += lost_hand_ins(cohort)
    try:
        seen = witnesses(cohort.folder)
    except (LegToLegError, OSError) as error:
        seen = {}
        troubles.append(f"The witness record cannot be read, so nobody counts as seen: {plain_words(error)}")
    tests = read_results(cohort.folder)
    lines = {(line.apprentice, line.lesson): line for line in MarkingCache(cohort.folder).lines()}
    read = read_marks(cohort)
    fates, odd = fates_of(cohort, lines, {(mark.apprentice, mark.lesson) for mark in read.marks})
    lessons = [lesson for lesson in cohort.lessons() if lesson in SHEETS]
    numbers = cohort_numbers(read.marks, people, lessons, late=read.late)
    blank = {lesson: released(cohort, lesson, given_out) for lesson in lessons}
    ledger = TryLedger(cohort.folder)
    dealt = [(path.parent.name, path.stem) for path in (cohort.folder / TRIES).glob("*/*.json")]
    return replace(
        numbers,
        remarks=[f"{who}, {lesson}: {remark}." for (who, lesson), line in lines.items() for remark in line.remarks],
        dealt={who: ledger.current(*who) for who in dealt},
        fates=fates,
        seen=seen,
        tests=tests,
        facts=facts_of(read.papers, blank),
        about=about(cohort, lines),
        troubles=[
            *troubles,
            *tests.troubles,
            *read.troubles,
            *numbers.troubles,
            *_versions(lines),
            *odd,
        ],
    )


def write_report(cohort: Cohort, *, out: Path | None = None, witnesses: Witnesses = seen_at_a_machine) -> Written:
    """Write the page, the workbook and the CSV files of ``cohort`` into ``out`` (default: its own folder).

    A file that cannot be written is named in the troubles of what is returned; the others are written.
    """
    out = out or cohort.folder
    numbers = numbers_of(cohort, witnesses)
    troubles = list(numbers.troubles)

    def link(who: str, lesson: str) -> str:
        page = cohort.feedback(who, lesson)
        inside = page.is_file() and page.is_relative_to(out.resolve())
        return quote(page.relative_to(out.resolve()).as_posix()) if inside else ""

    def write(path: Path, make: Callable[[], bytes]) -> bool:
        try:
            write_whole(path, make())
        except OSError as error:
            troubles.append(
                f"{path.name} could not be written ({error.strerror or error}): close it where it is open, see that "
                "there is room, and run report again. The other files do not need it."
            )
            return False
        return True

    made = tables(numbers) | {WIDE: wide_table(numbers)}
    page, workbook = out / "report.html", out / "report.xlsx"
    write(page, lambda: page_text(numbers, link, made_up=cohort.made_up).encode("utf-8", "replace"))
    write(workbook, lambda: workbook_bytes(for_people(made)))
    written = []
    for name, table in made.items():
        path = out / f"report-{name}.csv"
        if write(path, partial(csv_bytes, table)):
            written.append(path)
    return Written(page, workbook, written, numbers, troubles)
