"""Setting up: roster to folder, book and kits; again with a longer roster, and nothing is lost."""

from __future__ import annotations

import sqlite3
import zipfile
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from legtoleg.cohort.cohort_folder import Cohort, CohortError
from legtoleg.cohort.cohort_setup import DueDateError, read_due, set_up
from legtoleg.cohort.gradebook import BookError
from legtoleg.core.paths import lesson_names

pytestmark = pytest.mark.slow


def test_folder_book_and_kits(fresh: Cohort) -> None:
    assert fresh.lessons() == lesson_names()
    assert [person.id for person in fresh.people()] == ["ada-01", "bo-02", "cy-03"]
    with sqlite3.connect(fresh.folder / "gradebook.db") as book:
        rows = book.execute("select id, first_name, last_name, email from student order by id").fetchall()
    assert rows[0] == ("ada-01", "Ada", "Demo", "ada@example.org")
    kits = sorted(path.name for path in (fresh.folder / "kits").iterdir())
    assert kits == [f"leg-to-leg-{who}-Demo.zip" for who in ("ada-01-Ada", "bo-02-Bo", "cy-03-Cy")]
    with zipfile.ZipFile(fresh.folder / "kits" / kits[1]) as kit:
        assert b"bo-02" in kit.read("leg-to-leg-bo-02-Bo-Demo/kit.json")


def test_again_with_others_keeps_what_is_there(fresh: Cohort, tmp_path: Path) -> None:
    handed_in = fresh.submitted("ada-01", "03_heater_power")
    handed_in.parent.mkdir(parents=True)
    handed_in.write_text("mine", encoding="utf-8")
    kit = fresh.folder / "kits" / "leg-to-leg-bo-02-Bo-Demo.zip"
    before = (kit.stat().st_mtime_ns, fresh.released("03_heater_power").stat().st_mtime_ns)
    roster = tmp_path / "new.csv"
    roster.write_text("id,name\nbo-02,Bo Demo\ndi-04,Di Demo\n", encoding="utf-8")
    made = set_up(fresh.folder, roster, due=["2026-12-01"])
    assert (made.new, made.gone) == (1, ["ada-01", "cy-03"])
    assert handed_in.read_text(encoding="utf-8") == "mine"
    assert (kit.stat().st_mtime_ns, fresh.released("03_heater_power").stat().st_mtime_ns) == before
    assert (fresh.folder / "kits" / "leg-to-leg-di-04-Di-Demo.zip").is_file()
    with sqlite3.connect(fresh.folder / "gradebook.db") as book:
        assert book.execute("select count(*) from student").fetchone() == (4,)
        assert book.execute("select duedate from assignment").fetchone()[0].startswith("2026-12-0")


def test_nothing_is_packed_for_a_leaver_and_the_rest_have_theirs(fresh: Cohort, tmp_path: Path) -> None:
    roster = tmp_path / "new.csv"
    roster.write_text(
        "id,name,left\nada-01,Ada Demo,\ned-05,Ed Demo,2026-11-20\nflo-06,Flo Demo,2026-11-30\n", encoding="utf-8"
    )
    made = set_up(fresh.folder, roster, today=date(2026, 11, 29))
    assert made.left == ["ed-05"]
    kits = {path.name for path in (fresh.folder / "kits").iterdir()}
    assert "leg-to-leg-flo-06-Flo-Demo.zip" in kits, "still here until their day"
    assert not [name for name in kits if "ed-05" in name]
    assert "ed-05" in {person.id for person in fresh.people()}, "they stay on the roster, and in the book"


def test_due_dates() -> None:
    lessons = ["03_heater_power"]
    due = read_due("03_heater_power=2026-12-01T17:00+02:00", lessons)
    assert due == {"03_heater_power": datetime(2026, 12, 1, 15, 0, tzinfo=UTC).replace(tzinfo=None)}
    assert read_due("3=2026-12-01T17:00+02:00", lessons) == due
    for text in ("tomorrow", "04_x=2026-12-01", "03_heater_power="):
        with pytest.raises(DueDateError):
            read_due(text, lessons)


@pytest.mark.parametrize("book", ["nonsense", "sqlite:////no-such-folder/x/book.db", "nosuch://host/book"])
def test_a_book_that_is_none_is_told_before_anything_is_made(tmp_path: Path, book: str) -> None:
    roster = tmp_path / "roster.csv"
    roster.write_text("id,name\nada-01,Ada Demo\n")
    with pytest.raises(BookError, match=r"^The (address of the )?grade book cannot be used \(") as said:
        set_up(tmp_path / "new", roster, book=book)
    assert "\n" not in str(said.value)
    assert not (tmp_path / "new").exists()


def test_a_folder_that_is_no_cohort(tmp_path: Path) -> None:
    with pytest.raises(CohortError, match="legtoleg cohort"):
        Cohort.at(tmp_path)
