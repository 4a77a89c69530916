"""A cohort's folder: its layout, its book's address, and nbgrader told to mark by our way."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace

import pytest

from legtoleg.authoring import nbgrader_api
from legtoleg.authoring.nbgrader_api import NbgraderError
from legtoleg.cohort.cell_ordering import RestoreOrder
from legtoleg.cohort.cohort_folder import ROSTER, Cohort, CohortError
from legtoleg.cohort.nbgrader_steps import MarkAnswers, RestoreMarks
from legtoleg.marking.bench_trail_recovery import KeepWork
from legtoleg.sandbox.run_notebook import RunNotebook


def test_a_folder_without_a_cohort_says_how_to_make_one(tmp_path: Path) -> None:
    with pytest.raises(CohortError, match=r"not a cohort's folder. Make one with “legtoleg cohort .* --roster FILE”"):
        Cohort.at(tmp_path)


def test_the_book_is_in_the_folder_or_where_it_was_said_to_be(tmp_path: Path) -> None:
    here = Cohort.make(tmp_path / "here", [])
    assert here.book == f"sqlite:///{here.folder / 'gradebook.db'}"
    there = Cohort.make(tmp_path / "there", [], "postgresql://book's/place")
    assert there.book == "postgresql://book's/place"
    assert Cohort.make(tmp_path / "there", []).book == there.book
    assert there.config().CourseDirectory.db_url == there.book


def test_lessons_people_and_places(tmp_path: Path) -> None:
    cohort = Cohort.make(tmp_path, [])
    assert (cohort.lessons(), cohort.people()) == ([], [])
    cohort.released("b_lesson").parent.mkdir(parents=True)
    cohort.released("b_lesson").touch()
    (cohort.folder / ROSTER).write_text("id,name\nada-01,Ada Demo\n", encoding="utf-8")
    assert (cohort.lessons(), [person.name for person in cohort.people()]) == (["b_lesson"], ["Ada Demo"])
    assert cohort.submitted("ada-01", "b_lesson").relative_to(cohort.folder).parts == (
        "submitted",
        "ada-01",
        "b_lesson",
        "b_lesson.ipynb",
    )


def test_nbgrader_runs_our_steps_and_ours_come_first(tmp_path: Path) -> None:
    config = Cohort.make(tmp_path, []).config()
    ours = {
        f"{one.__module__}.{one.__name__}" for one in (KeepWork, RestoreMarks, RestoreOrder, RunNotebook, MarkAnswers)
    }
    sanitize, marking = config.Autograde.sanitize_preprocessors, config.Autograde.autograde_preprocessors
    assert ours <= {*sanitize, *marking}
    assert sanitize[0].endswith("KeepWork")
    assert [step.rpartition(".")[2] for step in marking[:2]] == ["RunNotebook", "MarkAnswers"]


def test_a_step_that_fails_says_nbgraders_last_word(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    cohort = Cohort.make(tmp_path, [])

    def call(
        _api: object, _step: str, _who: object, _options: object, last: nbgrader_api._LastWords
    ) -> dict[str, bool]:
        last.words.append("the disk is full")
        return {"success": False}

    monkeypatch.setattr(nbgrader_api, "_call", call)
    monkeypatch.setattr("nbgrader.apps.NbGraderAPI", lambda config: SimpleNamespace(log=None))
    with pytest.raises(NbgraderError, match="nbgrader's autograde failed for a_lesson of ada-01: the disk is full"):
        cohort.run("autograde", "a_lesson", "ada-01")
