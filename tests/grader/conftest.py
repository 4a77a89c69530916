"""A small cohort to take in and mark, made once."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from grader.cohorts import Cohort
from grader.setting_up import set_up

ROSTER = "id,name,mail,group\nada-01,Ada Demo,ada@example.org,one\nbo-02,Bo Demo,,one\ncy-03,Cy Demo,,two\n"


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("made")
    roster = folder / "roster.csv"
    roster.write_text(ROSTER, encoding="utf-8")
    set_up(folder / "cohort", roster)
    return folder / "cohort"


@pytest.fixture
def fresh(made: Path, tmp_path: Path) -> Cohort:
    """Return a copy of a cohort of three in which nothing was handed in."""
    shutil.copytree(made, tmp_path / "cohort")
    return Cohort.at(tmp_path / "cohort")
