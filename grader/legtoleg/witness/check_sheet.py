"""The check sheet: one real machine, nine steps to tick and to put initials to, as a page to print."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from legtoleg.authoring.workbook import PAPERS
from legtoleg.core.files import write_whole
from legtoleg.core.page_templates import template
from legtoleg.intake.roster import Person
from legtoleg.witness.job_steps import job_steps
from legtoleg.witness.witness_record import WitnessError, WitnessRecord

FOLDER = "check-sheets"


def sheet_page(people: Sequence[Person], paper: str = "letter") -> str:
    """Return a check sheet for each of ``people`` as one HTML page that stands by itself; for nobody, a blank one.

    Raises
    ------
    WitnessError
        If there is no such paper.
    """
    if paper not in PAPERS:
        raise WitnessError(f"There is no paper {paper!r:.60}: say a4 or letter.")
    sheets = [{"id": one.id, "name": one.name} for one in people] or [{"id": "", "name": ""}]
    return template("witness/check_sheet.html").render(sheets=sheets, steps=job_steps(), paper=PAPERS[paper])


def write_sheet(record: WitnessRecord, ids: Sequence[str], paper: str = "letter") -> Path:
    """Write the check sheets of ``ids`` into the record's folder and return the page: one person, several, or blank.

    Raises
    ------
    WitnessError
        If nobody of such an id is here, or there is no such paper.
    """
    people = [record.person(who) for who in ids]
    name = "blank" if not ids else ids[0] if len(ids) == 1 else f"{len(ids)}-people"
    page = record.folder / FOLDER / f"check-sheet-{name}.html"
    write_whole(page, sheet_page(people, paper).encode("utf-8"))
    return page
