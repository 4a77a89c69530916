"""The check sheet: all nine steps with room to tick and sign, cautions in, nothing of a brand asked."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from legtoleg.authoring.pdf import find_chromium, print_pdf
from legtoleg.intake.roster import Person
from legtoleg.witness.check_sheet import sheet_page, write_sheet
from legtoleg.witness.job_steps import job_steps
from legtoleg.witness.witness_record import WitnessError, WitnessRecord


def test_a_sheet_has_all_that_a_witness_needs() -> None:
    page = sheet_page([Person("ada-01", "Ada <b>Demo</b>")])
    assert "Ada &lt;b&gt;Demo&lt;/b&gt; (ada-01)" in page
    points = sum(len(one.points) for one in job_steps())
    assert page.count('class="box"') == points + 2 * 9, "each point, and passed and not passed for each step"
    assert page.count("<small>initials</small>") == 9
    assert page.count("⚠ safety") == sum(one.safety for one in job_steps())
    for words in ("Kind of dryer, in your words", "no brand", "Witness: signature", "Stop the job at once", "911"):
        assert words in page
    for word in ("src=", "href=", "http"):
        assert word not in page, "it needs nothing from outside"


def test_one_sheet_for_each_and_a_blank_one(tmp_path: Path) -> None:
    (tmp_path / "people.csv").write_text("id,name\nada-01,Ada Demo\nbo-02,Bo Demo\n", encoding="utf-8")
    record = WitnessRecord(tmp_path)
    assert write_sheet(record, ["ada-01"]).name == "check-sheet-ada-01.html"
    both = write_sheet(record, ["ada-01", "bo-02"])
    assert both.read_text(encoding="utf-8").count("<h1>") == 2
    assert "size: A4" in write_sheet(record, [], "a4").read_text(encoding="utf-8")
    with pytest.raises(WitnessError, match="no paper 'b5'"):
        write_sheet(record, [], "b5")
    with pytest.raises(WitnessError, match="Nobody with the id 'zed'"):
        write_sheet(record, ["zed"])


@pytest.mark.browser
@pytest.mark.skipif(not shutil.which("chromium"), reason="no Chromium here")
def test_it_prints_on_both_sides_of_one_sheet(tmp_path: Path) -> None:
    from pypdf import PdfReader

    for paper in ("letter", "a4"):
        page = tmp_path / f"{paper}.html"
        page.write_text(sheet_page([Person("ada-01", "Ada Demo")], paper), encoding="utf-8")
        assert len(PdfReader(print_pdf(page, find_chromium())).pages) == 2
