"""On the report, any feedback, workbook, check sheet, list of what came and the slips axe-core finds nothing, no page
moves sideways, and no word is broken in the middle, wide and narrow."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.legtoleg.accessible import cramped, violations

from legtoleg.authoring.workbook import write_pages
from legtoleg.classroom.slips import Slip
from legtoleg.collecting.arrivals import Arrival
from legtoleg.collecting.what_came_page import FATES, write_what_came
from legtoleg.core.page_templates import template
from legtoleg.demo.trial import run_trial
from legtoleg.intake.roster import Person
from legtoleg.witness.check_sheet import sheet_page

pytestmark = [pytest.mark.slow, pytest.mark.browser]
WIDTHS = (1366, 390)


def walk(request: pytest.FixtureRequest, pages: list[Path]) -> dict[str, dict[str, str]]:
    """Return what is wrong with each of ``pages`` that has something wrong; those with the same text are one page."""
    page = request.getfixturevalue("page")  # not before: a browser and a kernel want the same loop
    found: dict[str, dict[str, str]] = {}
    for path in {path.read_bytes(): path for path in pages}.values():
        page.goto(path.as_uri())
        for width in WIDTHS:
            page.set_viewport_size({"width": width, "height": 900})
            wrong = violations(page) | cramped(page)
            if wrong:
                found[f"{path.name} at {width}"] = wrong
    return found


def test_report_and_feedback(request: pytest.FixtureRequest, tmp_path: Path) -> None:
    run_trial(tmp_path / "try", 3, 1)
    pages = sorted((tmp_path / "try").rglob("*.html"))
    assert {"report.html"} < {path.name for path in pages}
    assert walk(request, pages) == {}


def test_check_sheet_slips_and_what_came(request: pytest.FixtureRequest, tmp_path: Path) -> None:
    people = [Person("ada-01", "Ada Demo"), Person("bo-02", "Bo Demo")]
    sheet = tmp_path / "sheet.html"
    sheet.write_text(sheet_page(people), encoding="utf-8")
    came = [
        Arrival(f"{state}.ipynb", state, "What became of it. Do this.", "ab" * 32, "received/a.ipynb", "ada-01",
                "02_two_legs", "2026-11-27T01:00:00+00:00", "2026-11-27T02:00:00+00:00", "Do this.")
        for state in FATES
    ]  # fmt: skip
    slips = tmp_path / "slips.html"
    codes = [Slip(one.id, one.name, "made-up-code", "2026-11-27T01:00:00+00:00") for one in people]
    slips.write_text(template("classroom/slips.html").render(slips=codes, address="http://example.org", shortest=8))
    assert walk(request, [sheet, slips, write_what_came(came, people, tmp_path)]) == {}


def test_every_page_of_a_workbook(request: pytest.FixtureRequest, tmp_path: Path) -> None:
    pages = write_pages(tmp_path, None, "demo-02")
    assert len(pages) > 9
    assert walk(request, pages) == {}
