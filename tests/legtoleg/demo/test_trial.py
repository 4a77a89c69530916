"""The trial: marks against truth, and nbgrader's own commands on the same cohort."""

from __future__ import annotations

import csv
import html
import re
import subprocess
import sys
from pathlib import Path

import pytest

from dryerbench.registry import SLIPS, sheet
from legtoleg.authoring.lesson_source import worked_source
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.marks import book_points, marks_of
from legtoleg.core.paths import lesson_names
from legtoleg.demo.simulated_apprentices import simulate
from legtoleg.demo.trial import Comparison, TrialError, compare, run_trial

pytestmark = [pytest.mark.slow, pytest.mark.filterwarnings("ignore::sqlalchemy.exc.SAWarning")]

LESSON = "03_heater_power"


@pytest.fixture(scope="module")
def tried(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Comparison]:
    out = tmp_path_factory.mktemp("trial") / "out"
    return out, run_trial(out, 6, 3)


def rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def nbgrader(out: Path, *words: str) -> str:
    done = subprocess.run(
        [sys.executable, "-m", "nbgrader", *words],
        check=False,
        capture_output=True,
        text=True,
        cwd=out,
        timeout=300,
    )
    assert done.returncode == 0, done.stderr[-1500:]
    return done.stderr


def test_marks_and_truth_agree(tried: tuple[Path, Comparison]) -> None:
    out, result = tried
    assert result.agreed, result.differences
    assert result.right > 20
    assert result.slips > 5
    marks = {(r["apprentice"], r["lesson"], r["question"]): r for r in rows(out / "marks.csv")}
    truth = rows(out / "truth.csv")
    assert len(marks) == len(truth) == 6 * sum(len(sheet(lesson).questions) for lesson in lesson_names())
    for deed in truth:
        mark = marks[deed["apprentice"], deed["lesson"], deed["question"]]
        assert float(mark["points"]) == float(deed["expected_points"])
        if deed["did"] == "right":
            assert mark["points"] == mark["max_points"]
        if deed["did"].startswith("slip:"):
            assert deed["did"].removeprefix("slip:") in mark["note"].split("+")


def test_every_page_is_there(tried: tuple[Path, Comparison]) -> None:
    out, _ = tried
    report = (out / "report.html").read_text(encoding="utf-8")
    assert "Made-up cohort" in report
    links = re.findall(r'href="([^"]+)"', report)
    pages = {link for link in links if not link.startswith("#")}  # a held lesson is named in the first list too
    assert len(pages) == 6 * len(lesson_names())
    assert all((out / page).is_file() for page in pages)
    inside = {link.removeprefix("#") for link in links} - pages
    assert inside == {f"l-{lesson}" for lesson in lesson_names()}
    assert all(f'id="{place}"' in report for place in inside)
    assert not re.search(r'(src|href)="https?:', report)


def test_feedback_shows_answer_band_and_slip_and_no_key(tried: tuple[Path, Comparison]) -> None:
    out, _ = tried
    for deed in rows(out / "truth.csv"):
        lesson = deed["lesson"]
        page = (out / "feedback" / deed["apprentice"] / lesson / f"{lesson}.html").read_text(encoding="utf-8")
        if deed["did"].startswith("slip:"):
            says = SLIPS[deed["did"].removeprefix("slip:")].says
            assert says.split(".")[0] in html.unescape(page)
        if lesson == LESSON:
            assert ("counts." in page) == ("Signed off.</b>" in page)
            assert worked_source(LESSON, deed["question"]).splitlines()[-1] not in page
        assert "grader/" not in page
        assert "BEGIN SOLUTION" not in page


def test_nbgraders_own_commands_give_the_same_marks(tried: tuple[Path, Comparison]) -> None:
    out, _ = tried
    cohort = Cohort(out)
    before = {who: book_points(cohort, who, LESSON) for who in ("demo-02", "demo-04")}
    for who, points in before.items():
        nbgrader(out, "autograde", LESSON, "--student", who, "--force")
        assert book_points(cohort, who, LESSON) == points
        marks = {mark.outcome.question: mark.outcome.points for mark in marks_of(cohort, who, LESSON)}
        assert marks == points
    nbgrader(out, "generate_feedback", LESSON, "--student", "demo-02", "--force")
    nbgrader(out, "export", "--to", "grades.csv")
    grades = {r["student_id"]: float(r["score"]) for r in rows(out / "grades.csv") if r["assignment"] == LESSON}
    assert grades["demo-02"] == sum(before["demo-02"].values())


def test_a_folder_with_something_in_it_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_text("keep", encoding="utf-8")
    with pytest.raises(TrialError, match="not empty"):
        run_trial(tmp_path, 1, 1)
    assert [path.name for path in tmp_path.iterdir()] == ["mine.txt"]


def test_the_comparison_can_fail(tried: tuple[Path, Comparison]) -> None:
    out, _ = tried
    people = [(LESSON, simulate(n, 3, LESSON)) for n in (1, 2)]
    marks = marks_of(Cohort(out), "demo-01", LESSON)
    result = compare(marks, people)
    assert not result.agreed
    assert any("demo-02" in line and "not graded" in line for line in result.differences)


def test_the_same_seed_makes_the_same_people_and_another_makes_others() -> None:
    assert simulate(2, 1, LESSON) == simulate(2, 1, LESSON)
    assert simulate(2, 1, LESSON) != simulate(2, 2, LESSON)
    did = {deed.did.split(":")[0] for n in range(1, 13) for deed in simulate(n, 1, LESSON).deeds}
    assert did == {"right", "slip", "follow_through", "blank", "python_error"}
