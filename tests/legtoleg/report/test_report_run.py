"""A run of report: mess is one line each, all else is written, and no word from outside steers a page or a terminal."""

from __future__ import annotations

import json
import unicodedata
from pathlib import Path

import openpyxl
import pytest

from dryerbench.registry import sheet
from legtoleg.cohort import cohort_config
from legtoleg.cohort.cohort_folder import TRUTH, Cohort
from legtoleg.cohort.feedback_page import page
from legtoleg.cohort.marking_cache import MarkedLine, MarkingCache
from legtoleg.cohort.not_graded import ASK_AGAIN, Refusals
from legtoleg.core.notebook_format import Resources
from legtoleg.intake.roster import Person
from legtoleg.intake.submissions import digest
from legtoleg.marking.outcomes import MIME, Outcome
from legtoleg.report import marks_reading, report_run
from legtoleg.report.hand_in_fates import NEW
from legtoleg.report.report_run import Written, write_report

LESSON = "03_heater_power"
NASTY = "Eve\x1b[2J\x9b31m\u202egpj\u2066\u200b\x07 <b>x</b>"


def marked(cohort: Cohort, who: str, *, answer: str = "a") -> None:
    cells = [
        {
            "cell_type": "code",
            "source": "",
            "metadata": {"nbgrader": {"grade": True, "grade_id": q.name}},
            "outputs": [{"data": {MIME: Outcome(q.name, q.points, q.points, "right", "M", answer).as_data()}}],
        }
        for q in sheet(LESSON).questions
    ]
    notebook: Resources = {"cells": cells, "metadata": {}}
    path = cohort.autograded(who, LESSON)
    path.parent.mkdir(parents=True)
    path.write_text(json.dumps(notebook), encoding="utf-8")


@pytest.fixture
def cohort(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Cohort:
    """Return a cohort with a roster and no book: a report of it says so and uses the marked notebooks."""
    monkeypatch.setattr(marks_reading, "Book", lambda _: _raise(OSError(2, "No such file")))
    cohort_config.write(tmp_path)
    (tmp_path / "roster.csv").write_text(
        f"id,name,mail\nada,Ada Demo,ada@example.org\neve,{NASTY},\nbo,B,\ncy,C,\ndi,D,\n", encoding="utf-8"
    )
    made = Cohort.at(tmp_path)
    for who in ("ada", "eve"):
        marked(made, who, answer=NASTY)
    return made


def _raise(error: Exception) -> None:
    raise error


def texts(written: Written) -> list[str]:
    files = [written.page, *written.tables]
    return [file.read_bytes().decode("utf-8-sig") for file in files] + written.troubles


def test_mess_is_one_line_each_and_the_rest_is_there(cohort: Cohort) -> None:
    for who, content in {"bo": "{", "cy": '{"cells": 3}', "di": '{"cells": []}'}.items():
        path = cohort.autograded(who, LESSON)
        path.parent.mkdir(parents=True)
        path.write_text(content, encoding="utf-8")
        came = cohort.submitted(who, LESSON)
        came.parent.mkdir(parents=True)
        came.write_text("{}", encoding="utf-8")
    released = cohort.released(LESSON)
    released.parent.mkdir(parents=True)
    released.write_text("no notebook", encoding="utf-8")
    written = write_report(cohort)
    states = [written.numbers.state(who, written.numbers.lessons[0]) for who in ("bo", "cy", "di")]
    assert states == ["came, not graded"] * 3
    said = written.troubles
    assert len([line for line in said if line.startswith(("bo, ", "cy, ", "di, "))]) == 3
    assert [line for line in said if "The grade book is gone" in line]
    assert all("\n" not in line for line in said)
    assert [written.numbers.state(who, written.numbers.lessons[0]) for who in ("ada", "eve")] == ["signed off"] * 2
    assert "Ada Demo" in written.page.read_text(encoding="utf-8")


def test_the_report_says_why_a_hand_in_is_not_graded_and_what_to_do(cohort: Cohort) -> None:
    """On the page beside the name, in its own list, and in the workbook; of each of the ways to have no marks."""
    came = {who: cohort.submitted(who, LESSON) for who in ("ada", "bo", "cy", "di")}
    for path in came.values():
        path.parent.mkdir(parents=True)
        path.write_text("{}", encoding="utf-8")
    came["di"].unlink()
    came["di"].symlink_to(cohort.folder / "roster.csv")
    released = cohort.released(LESSON)
    released.parent.mkdir(parents=True)
    released.write_text("no notebook", encoding="utf-8")
    this = digest(b"{}")
    cache = MarkingCache(cohort.folder)
    for who in ("ada", "bo"):
        cache.write(MarkedLine(who, LESSON, this if who == "bo" else "an older one", "", ()))
    refusals = Refusals(cohort.folder)
    refusals.note("ada", LESSON, "another file", "is not said any more")
    refusals.note("cy", LESSON, this, f"it has no cells{NASTY}; {ASK_AGAIN}")
    written = write_report(cohort)
    asks = "Ask for the lesson again, and take it in with legtoleg collect."
    fates = written.numbers.fates
    assert fates.why("ada", LESSON) == NEW
    assert fates.why("bo", LESSON) == (
        f"It was graded, but its marks cannot be read. Run legtoleg mark --lesson {LESSON} --again."
    )
    assert fates.why("cy", LESSON).startswith("It has no cells")
    assert fates.why("cy", LESSON).endswith(asks)
    assert fates.why("di", LESSON) == f"It is a link to somewhere else. {asks}"
    page = written.page.read_text(encoding="utf-8")
    assert "<b>4 hand-ins came and are not graded.</b> 1 came after the last grading: run" in page
    listed = page.partition("Why, and what to do:")[2].partition("</ul>")[0]
    assert listed.count("<li>") == 3
    assert f"<li><b>D</b>, 03: It is a link to somewhere else. {asks}</li>" in listed
    row = page.partition('<h2 id="l-03_heater_power">')[2].partition('<th scope="row">C</th>')[2].partition("</tr>")[0]
    assert f"{asks} </td>" in row, "beside the name, in the lesson's own table"
    people = page.partition('id="everybody"')[2].partition("</table>")[0]
    assert 'title="came, not graded: It is a link to somewhere else.' in people
    book = openpyxl.load_workbook(written.workbook)["ungraded"]
    rows = [[cell.value for cell in row] for row in book.iter_rows(min_row=2)]
    assert [row[:4] for row in rows] == [
        ["ada", "Ada Demo", LESSON, "came, not graded"],
        ["bo", "B", LESSON, "came, not graded"],
        ["cy", "C", LESSON, "came, not graded"],
        ["di", "D", LESSON, "came, not graded"],
    ]
    assert rows[3][4] == fates.why("di", LESSON)
    assert (cohort.folder / "report-ungraded.csv").is_file()


def test_a_workbook_that_is_open_stops_nothing_else(cohort: Cohort, monkeypatch: pytest.MonkeyPatch) -> None:
    real = report_run.write_whole

    def locked(path: Path, content: bytes) -> None:
        if path.suffix == ".xlsx":
            raise PermissionError(13, "Permission denied")
        real(path, content)

    monkeypatch.setattr(report_run, "write_whole", locked)
    written = write_report(cohort)
    assert [
        line for line in written.troubles if line.startswith("report.xlsx could not be written (Permission denied)")
    ]
    assert written.page.is_file()
    assert all(file.is_file() for file in written.tables)


def test_a_damaged_roster_is_a_line(cohort: Cohort) -> None:
    (cohort.folder / "roster.csv").write_text("shoe\n41\n", encoding="utf-8")
    written = write_report(cohort)
    assert [line for line in written.troubles if line.startswith("The roster cannot be used:")]
    assert "ada" in written.page.read_text(encoding="utf-8")


def test_no_word_from_outside_steers_a_page_or_a_terminal(cohort: Cohort) -> None:
    outcome = Outcome("element_current", 0.0, 2.0, NASTY, NASTY, NASTY)
    found = [*texts(write_report(cohort)), page(LESSON, "eve", NASTY, [outcome], (NASTY,))]
    for text in found:
        bad = {one for one in text if unicodedata.category(one) in ("Cc", "Cf", "Cs") and one not in "\r\n\t"}
        assert not bad
    assert "<b>x</b>" not in found[0]


def test_a_made_up_cohort_says_so_whenever_its_report_is_written(cohort: Cohort) -> None:
    write_report(cohort)
    assert "nobody here is real" not in (cohort.folder / "report.html").read_text(encoding="utf-8")
    (cohort.folder / TRUTH).write_text("apprentice\n", encoding="utf-8")
    write_report(cohort)
    assert "nobody here is real" in (cohort.folder / "report.html").read_text(encoding="utf-8")


def test_the_wide_table_is_for_a_learning_management_system(cohort: Cohort) -> None:
    written = write_report(cohort)
    wide = next(file for file in written.tables if file.name == "report-wide.csv").read_text(encoding="utf-8-sig")
    head, ada, *_ = wide.splitlines()
    assert head.startswith(f"id,mail,{LESSON},{LESSON}.{sheet(LESSON).questions[0].name}")
    assert ada.startswith(f"ada,ada@example.org,{sum(q.points for q in sheet(LESSON).questions)}")
    assert Person("eve", NASTY).name not in wide


def test_who_was_seen_comes_in_by_one_function(cohort: Cohort) -> None:
    written = write_report(cohort, witnesses=lambda _: {"ada": "by Lee Demo on 2026-11-20"})
    assert written.numbers.parts("ada").witness.words == "seen by Lee Demo on 2026-11-20"
    assert written.numbers.parts("eve").witness.words == "not yet seen on a real dryer"


def test_a_deleted_folder_of_hand_ins_is_one_line_and_the_grades_stay(cohort: Cohort) -> None:
    written = write_report(cohort)
    (line,) = (one for one in written.troubles if "submitted" in one)
    assert line.startswith("The folder submitted is gone. The grades of 2 hand-ins still count.")
    page_text = written.page.read_text(encoding="utf-8")
    assert line in page_text
    assert "Ada Demo" in page_text
    for who in ("ada", "eve"):
        path = cohort.submitted(who, LESSON)
        path.parent.mkdir(parents=True)
        path.write_text("{}", encoding="utf-8")
    assert not [one for one in write_report(cohort).troubles if "submitted" in one]
