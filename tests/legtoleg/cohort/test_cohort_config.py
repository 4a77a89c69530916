"""A cohort's settings: those of an older version are brought up to date, and nothing else in them is touched."""

from __future__ import annotations

import json
import logging
import os
from importlib.metadata import version
from pathlib import Path

import pytest

from legtoleg.cohort import cohort_config
from legtoleg.cohort.cohort_config import FILE, NOTE, book_in, is_old, versions
from legtoleg.cohort.cohort_folder import Cohort

NOW = version("leg-to-leg")
OLD = '''"""nbgrader's settings for this cohort: its own commands mark by the course's way."""

from grader.cohorts import configure  # as it came

c = get_config()  # noqa: F821
configure(c)
c.CourseDirectory.db_url = 'postgresql://book/spring'
# the instructor's own, by the word grader.cohorts:
c.Exchange.path_includes_course = True  # Ω
'''
"""Settings as the version before the packages were renamed wrote them, with a book elsewhere and two lines by hand."""

NEW = OLD.replace("from grader.cohorts import", "from legtoleg.authoring.nbgrader_api import")


@pytest.mark.parametrize(("old", "new"), [(OLD, NEW), (OLD.replace("\n", "\r\n"), NEW.replace("\n", "\r\n"))])
def test_opening_an_old_cohort_renews_one_line(
    tmp_path: Path, caplog: pytest.LogCaptureFixture, old: str, new: str
) -> None:
    (tmp_path / FILE).write_bytes(old.encode())
    assert is_old(tmp_path)
    cohort = Cohort.at(tmp_path)
    assert (tmp_path / FILE).read_bytes().decode() == new
    assert cohort.book == "postgresql://book/spring"
    assert [record.getMessage() for record in caplog.records] == [
        f"{tmp_path / FILE} was of an older version of the course: one line of it was brought up to date."
    ]
    caplog.clear()
    Cohort.at(tmp_path)
    assert (caplog.records, is_old(tmp_path)) == ([], False)
    assert versions(tmp_path) == ("", "")


def test_the_renewed_settings_are_what_nbgrader_can_run(tmp_path: Path) -> None:
    (tmp_path / FILE).write_text(OLD, encoding="utf-8")
    Cohort.at(tmp_path)
    from traitlets.config import Config

    config = Config()
    exec((tmp_path / FILE).read_text(encoding="utf-8"), {"get_config": lambda: config})
    assert config.CourseDirectory.db_url == "postgresql://book/spring"
    assert config.Autograde.autograde_preprocessors[0].startswith("legtoleg.")


def test_bytes_that_are_no_utf_8_stay(tmp_path: Path) -> None:
    (tmp_path / FILE).write_bytes(OLD.encode().replace("Ω".encode(), b"\xff"))
    Cohort.at(tmp_path)
    assert (tmp_path / FILE).read_bytes() == NEW.encode().replace("Ω".encode(), b"\xff")


def test_setting_up_an_old_cohort_again_keeps_its_own_lines(tmp_path: Path) -> None:
    (tmp_path / FILE).write_text(OLD, encoding="utf-8")
    Cohort.make(tmp_path, [])
    assert (tmp_path / FILE).read_text(encoding="utf-8") == NEW
    Cohort.make(tmp_path, [], "postgresql://another's/book")
    lines = (tmp_path / FILE).read_text(encoding="utf-8").splitlines()
    assert book_in(tmp_path) == "postgresql://another's/book"
    assert "c.Exchange.path_includes_course = True  # Ω" in lines
    assert sum("db_url" in line for line in lines) == 1
    assert versions(tmp_path) == ("", NOW)


def test_settings_that_cannot_be_changed_are_told_and_used(
    tmp_path: Path, caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / FILE).write_text(OLD, encoding="utf-8")

    def refuse(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(cohort_config, "write_whole", refuse)
    assert Cohort.at(tmp_path).book == "postgresql://book/spring"
    assert [record.levelno for record in caplog.records] == [logging.WARNING]
    assert "cannot be changed (Permission denied)" in caplog.text
    assert (tmp_path / FILE).read_text(encoding="utf-8") == OLD


def test_rights_stay(tmp_path: Path) -> None:
    (tmp_path / FILE).write_text(OLD, encoding="utf-8")
    (tmp_path / FILE).chmod(0o640)
    Cohort.at(tmp_path)
    if os.name == "posix":
        assert (tmp_path / FILE).stat().st_mode & 0o777 == 0o640


def test_a_cohort_says_which_version_made_it(tmp_path: Path) -> None:
    Cohort.make(tmp_path, [])
    assert versions(tmp_path) == (NOW, NOW)
    (tmp_path / NOTE).write_text(json.dumps({"made_with": "0.0.1", "set_up_with": "0.0.2"}), encoding="utf-8")
    Cohort.make(tmp_path, [])
    assert versions(tmp_path) == ("0.0.1", NOW)


@pytest.mark.parametrize("content", [b"", b"{", b"[]", b'{"made_with": ["x"]}', b"\xff", b"[" * 9000])
def test_a_damaged_note_says_nothing(tmp_path: Path, content: bytes) -> None:
    (tmp_path / NOTE).write_bytes(content)
    assert versions(tmp_path) == ("", "")
