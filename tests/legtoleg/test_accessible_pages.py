"""Axe-core finds nothing on the report, on any apprentice's feedback, on any page of a workbook, wide and narrow."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.legtoleg.accessible import violations

from legtoleg.authoring.workbook import write_pages
from legtoleg.demo.trial import run_trial

pytestmark = [pytest.mark.slow, pytest.mark.browser]
WIDTHS = (1366, 390)


def walk(request: pytest.FixtureRequest, pages: list[Path]) -> dict[str, dict[str, str]]:
    """Return what is wrong with each of ``pages`` that has something wrong."""
    page = request.getfixturevalue("page")  # not before: a browser and a kernel want the same loop
    found: dict[str, dict[str, str]] = {}
    for path in pages:
        for width in WIDTHS:
            page.set_viewport_size({"width": width, "height": 900})
            page.goto(path.as_uri())
            wrong = violations(page)
            if wrong:
                found[f"{path.name} at {width}"] = wrong
    return found


def test_report_and_feedback(request: pytest.FixtureRequest, tmp_path: Path) -> None:
    run_trial(tmp_path / "try", 3, 1)
    pages = sorted((tmp_path / "try").rglob("*.html"))
    assert {"report.html"} < {path.name for path in pages}
    assert walk(request, pages) == {}


def test_every_page_of_a_workbook(request: pytest.FixtureRequest, tmp_path: Path) -> None:
    pages = write_pages(tmp_path, None, "demo-02")
    assert len(pages) > 9
    assert walk(request, pages) == {}
