"""The doctor: well on this machine, and each illness found with its cure."""

from __future__ import annotations

import json
import shutil
import sqlite3
from collections.abc import Iterator
from pathlib import Path

import pytest
from packaging.requirements import Requirement

from dryerbench.core import tables
from legtoleg.cli import course_checks, doctor
from legtoleg.cli.check import Check
from legtoleg.cohort import kit
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.gradebook import Book
from legtoleg.core import paths
from legtoleg.keys import answer_key
from legtoleg.sandbox import jail


def test_this_machine_can_run_the_course(tmp_path: Path) -> None:
    findings = list(doctor.examine(tmp_path / "new" / "cohort"))
    assert len(findings) == 20
    assert all(finding.well for finding in findings if finding.must), [f for f in findings if not f.well]
    assert not (tmp_path / "new").exists()


def test_a_kernel_of_another_python(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    spec = tmp_path / "kernels" / "python3"
    spec.mkdir(parents=True)
    text = json.dumps({"argv": ["/elsewhere/bin/python", "-m", "ipykernel"], "display_name": "x", "language": "python"})
    (spec / "kernel.json").write_text(text, encoding="utf-8")
    monkeypatch.setenv("JUPYTER_PATH", str(tmp_path))
    finding = doctor._kernel()
    assert not finding.well
    assert "/elsewhere" in finding.found
    assert "ipykernel install" in finding.cure


def test_missing_widgets_and_jail(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("jupyter_core.paths.jupyter_path", lambda *_: [str(tmp_path)])
    assert "anywidget" in doctor._widgets().found
    monkeypatch.setattr("legtoleg.sandbox.engine_choice._ways", lambda: iter([]))
    found = doctor._jail()
    assert (found.well, found.must) == (False, False)
    assert "without isolation" in found.found
    assert "bubblewrap" in found.cure


def test_a_long_path_on_windows(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(doctor.os, "name", "nt")
    long = Path.__new__(type(tmp_path), tmp_path / ("x" * 130))
    assert not doctor._length(long).well
    monkeypatch.undo()
    assert doctor._length(tmp_path / ("x" * 130)).well


def found(checks: Iterator[Check]) -> dict[str, Check]:
    return {check.what: check for check in checks}


@pytest.fixture
def course(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Copy what the doctor reads of the course, so that pieces of it can be taken away."""
    for name in ("lessons", "solutions", "datasets"):
        shutil.copytree(paths.ROOT / name, tmp_path / name, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copytree(paths.TEMPLATES, tmp_path / "templates")
    monkeypatch.setattr(paths, "ROOT", tmp_path)
    monkeypatch.setattr(course_checks, "TEMPLATES", tmp_path / "templates")
    monkeypatch.setattr(kit, "TEMPLATES", tmp_path / "templates")
    monkeypatch.setattr(course_checks, "datasets_folder", lambda: tmp_path / "datasets")
    monkeypatch.setattr(tables, "datasets_folder", lambda: tmp_path / "datasets")
    return tmp_path


def test_a_whole_course_is_well(course: Path) -> None:
    assert [check for check in course_checks.course_checks() if not check.well] == []


PIECES = {
    "lessons/03_heater_power/03_heater_power.ipynb": ("Lessons", "03_heater_power"),
    "lessons/00_start": ("Lessons", "00_start"),
    "lessons/ANSWERS.md": ("Lessons", "ANSWERS.md"),
    "lessons/WORDS.md": ("Lessons", "WORDS.md"),
    "solutions/05_path_to_case.md": ("Sources of the lessons", "05_path_to_case"),
    "solutions": ("Sources of the lessons", "00_start, 01_made_dead"),
    "datasets/nichrome_80_20.csv": ("Tables", "nichrome-80-20"),
    "datasets/datapackage.json": ("Tables", "datapackage.json"),
    "templates/report.html": ("Pages and start files", "report.html"),
    "templates/kit/start.py": ("A kit", "cannot be packed"),
}


@pytest.mark.parametrize("damaged", [False, True], ids=["missing", "damaged"])
@pytest.mark.parametrize("piece", PIECES)
def test_each_missing_or_damaged_piece_is_told_by_its_name(course: Path, piece: str, damaged: bool) -> None:
    path = course / piece
    if path.is_dir():
        shutil.rmtree(path)
    else:
        path.unlink()
        if damaged:
            path.write_bytes(b"\xff{") if path.suffix in (".ipynb", ".md", ".csv", ".json") else path.mkdir()
    what, name = PIECES[piece]
    check = found(course_checks.course_checks())[what]
    assert (check.well, check.must) == (False, True)
    assert name in check.found
    assert check.cure


def test_every_page_that_the_marker_fills_in_is_looked_for() -> None:
    there = {path.relative_to(paths.TEMPLATES).as_posix() for path in paths.TEMPLATES.rglob("*") if path.is_file()}
    assert there == {*course_checks._PAGES, *(f"kit/{name}" for name in kit.START_FILES)}


def test_a_lesson_whose_key_or_sheet_is_broken(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(lesson: str, card: object) -> None:
        if lesson == "07_tracing_the_circuit":
            raise SyntaxError("half a file")

    monkeypatch.setattr(answer_key, "worked", broken)
    check = course_checks._keys()
    assert (check.well, check.found) == (False, "missing or damaged: 07_tracing_the_circuit")


def test_an_installed_course_says_that_build_needs_a_checkout(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(course_checks, "in_checkout", lambda: False)
    check = course_checks._checkout()
    assert (check.well, check.must) == (False, False)
    assert "“legtoleg build” does not work" in check.found


@pytest.mark.parametrize(
    ("need", "trouble"),
    [
        ("a-package-that-nobody-made", "a-package-that-nobody-made (missing)"),
        ("numpy>=999", "numpy (version"),
        ("pint>=0.1", "pint (cannot be imported)"),
    ],
)
def test_a_package_that_is_missing_too_old_or_broken(monkeypatch: pytest.MonkeyPatch, need: str, trouble: str) -> None:
    def broken(name: str) -> None:
        raise OSError("a library of the system is missing")

    monkeypatch.setattr(doctor, "requirements", lambda: [Requirement(need)])
    monkeypatch.setattr(doctor, "import_module", broken)
    check = doctor._packages()
    assert not check.well
    assert trouble in check.found


def test_a_course_that_is_not_installed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(doctor, "requirements", list)
    assert (doctor._packages().well, doctor._packages().found) == (False, "the course is not installed here")


def test_the_book_is_written_and_nothing_stays(tmp_path: Path) -> None:
    cohort = Cohort.make(tmp_path / "cohort", [])
    with Book(cohort.book) as book:
        book.add_apprentice("ada-01", "Ada Demo")
    assert doctor._book(cohort.folder).found == "the cohort's own can be written"
    with sqlite3.connect(cohort.folder / "gradebook.db") as database:
        assert database.execute("SELECT id FROM student").fetchall() == [("ada-01",)]
    database.close()


def test_a_book_that_cannot_be_written(tmp_path: Path) -> None:
    cohort = Cohort.make(tmp_path / "cohort", [])
    with Book(cohort.book):
        pass
    held = sqlite3.connect(cohort.folder / "gradebook.db")
    held.execute("BEGIN EXCLUSIVE")
    try:
        check = doctor._book(cohort.folder)
    finally:
        held.rollback()
        held.close()
    assert (check.well, check.must) == (False, True)
    assert "locked" in check.found
    (cohort.folder / "gradebook.db").write_bytes(b"no database at all, but long enough to be looked into" * 40)
    assert not doctor._book(cohort.folder).well


def test_a_cohort_of_an_older_version(tmp_path: Path) -> None:
    (tmp_path / "nbgrader_config.py").write_text("from grader.cohorts import configure\n", encoding="utf-8")
    check = doctor._settings(tmp_path)
    assert (check.well, check.must) == (False, False)
    assert "older version" in check.found
    assert "grader.cohorts" in (tmp_path / "nbgrader_config.py").read_text(encoding="utf-8")


def test_chromium_that_is_missing_or_prints_nothing(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    assert (doctor._chromium().well, doctor._chromium().must) == (False, False)
    fake = tmp_path / "chromium"
    fake.write_text("#!/bin/sh\nexit 0\n", encoding="utf-8")
    fake.chmod(0o755)
    assert "made no PDF" in doctor._chromium().found


@pytest.mark.jail
def test_a_jail_that_does_not_hold_is_told(bubblewrap: None, monkeypatch: pytest.MonkeyPatch) -> None:
    readable = Path(jail.ROOM) / "datasets"
    monkeypatch.setattr(doctor, "private_folders", lambda: [readable])
    check = doctor._jail()
    assert (check.well, check.must) == (False, True)
    assert str(readable) in check.found
