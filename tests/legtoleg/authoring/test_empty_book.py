"""An empty grade book is nbgrader's own, made without starting a program."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
import warnings
from pathlib import Path

import nbgrader.api
import pytest

from legtoleg.authoring import empty_book

pytestmark = pytest.mark.filterwarnings("ignore::sqlalchemy.exc.SAWarning")


def opened(path: Path) -> list[str]:
    """Open the book as nbgrader does, and return all that it then holds, as SQL."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        nbgrader.api.Gradebook(f"sqlite:///{path}", "a course").close()
    with sqlite3.connect(path) as database:
        held = sorted(database.iterdump())
    database.close()
    return held


@pytest.mark.slow
def test_it_is_what_nbgrader_makes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", str(Path(sys.executable).parent), prepend=os.pathsep)
    own = opened(tmp_path / "own.db")
    empty_book.begin(f"sqlite:///{tmp_path / 'ours.db'}")
    assert opened(tmp_path / "ours.db") == own


def test_no_program_is_started(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def started(*words: object, **_: object) -> None:
        raise AssertionError(words)

    monkeypatch.setattr(subprocess, "Popen", started)
    with pytest.raises(AssertionError, match="alembic"):
        opened(tmp_path / "own.db")
    empty_book.begin(f"sqlite:///{tmp_path / 'ours.db'}")
    assert any('INSERT INTO "alembic_version"' in line for line in opened(tmp_path / "ours.db"))


def test_a_book_with_tables_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "book.db"
    with sqlite3.connect(path) as database:
        database.execute("CREATE TABLE alembic_version (version_num VARCHAR(32) NOT NULL)")
        database.execute("INSERT INTO alembic_version VALUES ('older')")
    database.close()
    empty_book.begin(f"sqlite:///{path}")
    assert any("'older'" in line for line in opened(path))
