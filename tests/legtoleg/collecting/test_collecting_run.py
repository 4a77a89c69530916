"""One run of collect: nothing that came is unnamed or lost, doubts are settled, twice changes nothing."""

from __future__ import annotations

import csv
import io
import json
import os
import unicodedata
import zipfile
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from legtoleg.cohort.cell_restoring import Restorer
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.gradebook import Book
from legtoleg.collecting.arrivals import Arrivals
from legtoleg.collecting.collecting import Taken
from legtoleg.collecting.collecting_report import told
from legtoleg.collecting.collecting_run import Collected, CollectError, collect_into
from legtoleg.core.files import write_whole
from legtoleg.intake.notebook_repair import repair

pytestmark = pytest.mark.slow
LESSON = "03_heater_power"
QUESTIONS = ("element_current", "element_power", "heater_ohms", "drift")
EARLY, LATE = 1_700_000_000, 1_700_100_000


class Room:
    """A cohort, and a folder into which things are dropped."""

    def __init__(self, cohort: Cohort, folder: Path) -> None:
        self.cohort, self.folder = cohort, folder
        folder.mkdir()
        with zipfile.ZipFile(cohort.folder / "kits" / "leg-to-leg-ada-01-Ada-Demo.zip") as kit:
            self._given = kit.read(f"leg-to-leg-ada-01-Ada-Demo/lessons/{LESSON}/{LESSON}.ipynb")

    def notebook(self, *answers: str, stamp: str = "", bare: bool = False) -> bytes:
        """Return the lesson with answers; ``bare``: without ids, marks and stamp, as some programs save it."""
        notebook: dict[str, Any] = json.loads(self._given)
        for name, answer in zip(QUESTIONS, answers, strict=False):
            cell = next(cell for cell in notebook["cells"] if cell["id"] == f"{name}-answer")
            cell["source"] = f'{name} = "{answer}"'
        notebook["metadata"]["leg_to_leg"] = {"apprentice": stamp} if stamp else {}
        for cell in notebook["cells"] if bare else ():
            cell.pop("id")
            cell["metadata"] = {}
        return json.dumps(notebook).encode()

    def drop(self, name: str, content: bytes, time: int = 0) -> Path:
        path = self.folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
        if time:
            os.utime(path, (time, time))
        return path

    def collect(self, *paths: Path, said: str = "", lesson: str = "") -> Collected:
        return collect_into(self.cohort, list(paths), said, lesson)

    def one(self, *paths: Path, said: str = "") -> Taken:
        (taken,) = self.collect(*paths, said=said).taken
        return taken

    def stands(self, who: str) -> str:
        path = self.cohort.submitted(who, LESSON)
        cells = json.loads(path.read_bytes())["cells"] if path.exists() else []
        sources = [text for cell in cells if (text := "".join(cell["source"])).startswith("element_current = ")]
        return sources[0].split('"')[1] if sources else ""

    def stamp(self, who: str) -> str:
        return (self.cohort.submitted(who, LESSON).parent / "timestamp.txt").read_text(encoding="ascii")

    def kept(self) -> set[bytes]:
        return {path.read_bytes() for path in (self.cohort.folder / "received").rglob("*") if path.is_file()}

    def rows(self) -> list[dict[str, str]]:
        text = (self.cohort.folder / "settle.csv").read_text(encoding="utf-8-sig")
        return list(csv.DictReader(io.StringIO(text, newline="")))

    def write(self, rows: list[dict[str, str]], delimiter: str = ",", encoding: str = "utf-8") -> None:
        out = io.StringIO(newline="")
        writer = csv.DictWriter(out, list(rows[0]), delimiter=delimiter)
        writer.writeheader()
        writer.writerows(rows)
        (self.cohort.folder / "settle.csv").write_bytes(out.getvalue().encode(encoding))

    def page(self) -> str:
        return (self.cohort.folder / "what_came.html").read_text(encoding="utf-8")


@pytest.fixture
def room(fresh: Cohort, tmp_path: Path) -> Room:
    return Room(fresh, tmp_path / "inbox")


def zipped(entries: dict[str, bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in entries.items():
            archive.writestr(name, content)
    return out.getvalue()


def wrong_files(room: Room) -> dict[str, bytes]:
    """Return files of more than twenty kinds that are no plain hand-in of anybody."""
    answers = room.notebook("1 A")
    deep = zipped({"a.zip": zipped({"b.zip": zipped({"bo-02.ipynb": answers})})})
    return {
        "photo.jpg": b"\xff\xd8\xff",
        "work.py": b"element_current = '1 A'",
        "page.html": b"<html>",
        "print.pdf": b"%PDF-1.7",
        "all.rar": b"Rar!\x1a\x07",
        "all.7z": b"7z\xbc\xaf",
        "all.tar.gz": b"\x1f\x8b",
        "letter.docx": b"PK\x03\x04letter",
        "mail.eml": b"From: x",
        "no ending": b"hello",
        "empty.ipynb": b"",
        "part.ipynb": b'{"cells": [',
        "list.ipynb": b"[1]",
        "other.ipynb": b'{"cells": [], "nbformat": 4}',
        "untitled.ipynb": answers,
        "stranger.ipynb": room.notebook("2 A", stamp="zed-99"),
        "bo-02.ipynb": room.notebook("3 A", stamp="ada-01"),
        "broken.zip": b"PK\x03\x04junk",
        "cut.zip": zipped({"bo-02.ipynb": os.urandom(4000)})[:2000],
        "deep.zip": deep,
        "empty.zip": zipped({}),
        "bomb.zip": zipped({"a.ipynb": b"0" * 30_000_000}),
        "out.zip": zipped({"../../cy-03.ipynb": answers}),
        "mixed.zip": zipped({"notes.txt": b"dear teacher", "pic/photo.png": b"\x89PNG"}),
        "evil\x1b[2J\nname.txt": b"hi",
        ".hidden.txt": b"hidden",
        "data.json": b'{"a": 1}',
    }


def test_nothing_that_came_is_unnamed_or_lost(room: Room) -> None:
    files = wrong_files(room)
    for name, content in files.items():
        room.drop(name, content)
    (room.folder / "link.ipynb").symlink_to("/etc/passwd")
    os.mkfifo(room.folder / "pipe.ipynb")
    missing = room.folder / "not there.ipynb"
    done = room.collect(room.folder, missing)
    lines, page = "\n".join(told(done.taken)), room.page()
    for name in [*files, "link.ipynb", "pipe.ipynb", missing.name, "notes.txt", "photo.png"]:
        shown = " ".join(name.replace("\x1b", "").split())
        assert shown in lines, name
        assert shown in page, name
    assert all(one.needs_a_person for one in done.taken), [one for one in done.taken if not one.needs_a_person]
    assert done.open == len(done.taken) == len(files) + 4
    assert set(files.values()) <= room.kept()
    assert not (room.cohort.folder / "submitted").exists()
    assert not [letter for letter in lines if unicodedata.category(letter) == "Cc" and letter != "\n"]
    assert len(room.rows()) == done.open - 3
    again = room.collect(room.folder, missing)
    assert [(one.name, one.words) for one in again.taken] == [(one.name, one.words) for one in done.taken]
    assert again.open == done.open


def test_a_notebook_under_another_ending_is_taken(room: Room) -> None:
    for name in ("bo-02.ipynb.txt", "ada-01.json", "cy-03.ipynb.json"):
        room.drop(name, room.notebook("1 A"))
    done = room.collect(room.folder)
    assert {(one.apprentice, one.state) for one in done.taken} == {
        (who, "counts") for who in ("ada-01", "bo-02", "cy-03")
    }
    assert done.open == 0
    assert "Nothing needs you." in room.page()
    assert not (room.cohort.folder / "settle.csv").exists()


def test_a_replacement_that_loses_answers_is_asked_about_in_either_order(room: Room) -> None:
    full = room.drop("ada-01 full.ipynb", room.notebook("1 A", "2 W", "3 ohm"), EARLY)
    less = room.drop("ada-01 less.ipynb", room.notebook("9 A", ""), LATE)
    assert room.one(full).state == "counts"
    asked = room.one(less)
    assert asked.state == "asked"
    assert "fewer answers (1, not 3)" in asked.words
    assert room.stands("ada-01") == "1 A"
    assert less.read_bytes() in room.kept()
    (held,) = (room.cohort.folder / "received" / "unclear").iterdir()
    settled = room.one(held, said="ada-01")
    assert settled.state == "counts"
    assert room.stands("ada-01") == "9 A"
    assert room.collect().open == 0
    assert [one.state for one in room.collect(full, less).taken] == ["kept", "known"]
    assert room.stands("ada-01") == "9 A"


def test_an_older_one_with_more_answers_is_asked_about(room: Room) -> None:
    room.collect(room.drop("b ada-01.ipynb", room.notebook("9 A"), LATE))
    asked = room.one(room.drop("a ada-01.ipynb", room.notebook("1 A", "2 W"), EARLY))
    assert "older than what counts and has more answers (2, not 1)" in asked.words
    assert room.stands("ada-01") == "9 A"


def test_a_neighbors_mark_never_replaces_in_silence(room: Room) -> None:
    room.collect(room.drop("ada-01.ipynb", room.notebook("1 A", stamp="ada-01"), EARLY))
    sent = {"kit.json": b'{"apprentice": "ada-01"}', f"{LESSON}.ipynb": room.notebook("9 A", "1 W", stamp="bo-02")}
    taken = room.one(room.drop("mine.zip", zipped(sent)))
    assert taken.state == "asked"
    assert "ada-01 and bo-02" in taken.words
    named = room.one(room.drop("bo-02/x.zip", zipped({**sent, f"{LESSON}.ipynb": room.notebook("8 A", "1 W")})).parent)
    assert "label says ada-01, its name says bo-02" in named.words
    assert room.stands("ada-01") == "1 A"


@pytest.mark.parametrize("year", [2099, 1971])
def test_a_wrong_clock_never_makes_a_later_hand_in_older(room: Room, year: int) -> None:
    wrong = int(datetime(year, 5, 1, tzinfo=UTC).timestamp())
    first = room.drop("1/ada-01.ipynb", room.notebook("1 A"), wrong)
    taken = room.one(first)
    assert taken.state == "counts"
    assert str(year) in taken.words
    assert room.stamp("ada-01")[:4] == str(datetime.now(UTC).year)
    later = room.drop("2/ada-01.ipynb", room.notebook("2 A"))
    assert room.one(later).state == "counts"
    assert [one.state for one in room.collect(first, later).taken] == ["kept", "known"]
    assert room.stands("ada-01") == "2 A"


def test_a_wrong_clock_after_a_right_one_counts_once(room: Room) -> None:
    right = room.drop("1/ada-01.ipynb", room.notebook("1 A"), EARLY)
    wrong = room.drop("2/ada-01.ipynb", room.notebook("2 A"), 1_000)
    assert [one.state for one in room.collect(right, wrong).taken] == ["counts", "counts"]
    assert [one.state for one in room.collect(right, wrong).taken] == ["kept", "known"]
    assert room.stands("ada-01") == "2 A"


def test_a_time_that_an_older_program_believed_is_clipped(room: Room) -> None:
    room.collect(room.drop("1/ada-01.ipynb", room.notebook("1 A"), EARLY))
    stamp = room.cohort.submitted("ada-01", LESSON).parent / "timestamp.txt"
    stamp.write_text("2099-01-01 00:00:00 UTC", encoding="ascii")
    room.drop("2/ada-01.ipynb", room.notebook("2 A"), int(datetime.now(UTC).timestamp()) + 60)
    assert room.one(room.folder / "2").state == "counts"


def test_a_kill_between_notebook_and_time_is_made_good(room: Room, monkeypatch: pytest.MonkeyPatch) -> None:
    first = room.drop("1/ada-01.ipynb", room.notebook("1 A"), EARLY)
    last = room.drop("2/ada-01.ipynb", room.notebook("2 A"), LATE)
    room.collect(first)
    written: list[str] = []

    def killed(path: Path, content: bytes, mode: int = 0o644) -> None:
        written.append(path.name)
        if path.name == "timestamp.txt":
            raise KeyboardInterrupt
        write_whole(path, content, mode)

    with monkeypatch.context() as patch:
        patch.setattr("legtoleg.collecting.collecting.write_whole", killed)
        with pytest.raises(KeyboardInterrupt):
            room.collect(last)
    assert written == [f"{LESSON}.ipynb", "timestamp.txt"]
    left = room.cohort.submitted("ada-01", LESSON).parent / ".part-x1"
    left.write_bytes(b"half")
    assert room.one(last).state == "known"
    assert room.stamp("ada-01") == datetime.fromtimestamp(LATE, UTC).strftime("%Y-%m-%d %H:%M:%S UTC")
    assert not list(room.cohort.folder.rglob(".part-*"))
    assert room.one(first).state == "kept"


def test_ids_and_marks_lost_the_cells_tell_the_lesson(room: Room) -> None:
    taken = room.one(room.drop("ada-01.ipynb", room.notebook("1 A", bare=True)))
    assert (taken.state, taken.lesson) == ("counts", LESSON)
    bare = repair(room.cohort.submitted("ada-01", LESSON).read_bytes()).notebook
    with Book(room.cohort.book) as book:
        restored = Restorer(book).restore(bare, "ada-01", LESSON)
    names = [cell.metadata.nbgrader.grade_id for cell in restored.cells if "nbgrader" in cell.metadata]
    assert len(names) == len(set(names))
    assert {f"{name}_answer" for name in QUESTIONS} | set(QUESTIONS) <= set(names)


@pytest.mark.parametrize(("delimiter", "encoding"), [(",", "utf-8"), (";", "cp1252"), ("\t", "utf-16")])
def test_the_csv_settles_doubts_by_id_name_and_nobody(room: Room, delimiter: str, encoding: str) -> None:
    room.drop("x.ipynb", room.notebook("1 A"))
    room.drop("y.ipynb", room.notebook("2 A", stamp="zed-99"))
    room.drop("z.ipynb", room.notebook("3 A", stamp="zed-98"))
    room.drop("photo.jpg", b"\xff\xd8")
    room.drop("print of bo-02.pdf", b"%PDF")
    assert room.collect(room.folder).open == 5
    said = {"x.ipynb": "ADA-01", "y.ipynb": "Bo  demo", "z.ipynb": "nobody", "photo.jpg": "Nobody", "print": "bo-02"}
    rows = room.rows()
    for row in rows:
        row["whose"] = next(who for name, who in said.items() if name in row["file"])
    room.write(rows, delimiter, encoding)
    done = room.collect()
    assert (done.open, len(done.taken)) == (0, 5)
    assert (room.stands("ada-01"), room.stands("bo-02")) == ("1 A", "2 A")
    assert not (room.cohort.folder / "settle.csv").exists()
    assert not room.cohort.submitted("cy-03", LESSON).exists()
    again = room.collect(room.folder)
    assert again.open == 0
    assert {one.state for one in again.taken} == {"known", "aside"}
    assert "Settled by you" in room.page()


def test_what_is_written_wrongly_stays_open_with_the_reason(room: Room) -> None:
    room.drop("x.ipynb", room.notebook("1 A"))
    room.collect(room.folder)
    (row,) = room.rows()
    room.write([{**row, "whose": "dora"}])
    done = room.collect()
    assert done.open == 1
    assert "“dora” fits nobody on the roster" in done.taken[0].words
    assert room.rows()[0]["whose"] == "dora"
    room.write([{**row, "whose": "ada-01", "lesson": "77"}])
    assert "“77” is not a lesson" in room.collect().taken[0].words
    room.write([{**row, "whose": "ada-01", "lesson": "3"}])
    assert room.collect().open == 0
    assert room.stands("ada-01") == "1 A"
    nonsense = b"\x00\xff\xfe,nonsense\n\x00"
    (room.cohort.folder / "settle.csv").write_bytes(nonsense)
    done = room.collect()
    assert done.open == 0
    assert "settle.csv was not read" in done.warnings[0]
    assert (room.cohort.folder / "settle-not-read.csv").read_bytes() == nonsense


def test_what_was_written_for_no_file_is_told(room: Room) -> None:
    room.collect(room.drop("x.ipynb", room.notebook("1 A")))
    (row,) = room.rows()
    room.write([row, {**row, "key": "f-0", "whose": "bo-02"}, {**row, "key": "", "whose": "nobody"}])
    done = room.collect()
    assert done.warnings == [
        "settle.csv: no file has the key “f-0”, so “bo-02” has no effect.",
        "settle.csv: no file has the key “”, so “nobody” has no effect.",
    ]
    assert room.rows() == [row]
    room.write([{**row, "whose": "cy-03"}])
    assert room.collect().warnings == []
    room.write([{**row, "whose": "cy-03"}])  # saved once more from a spreadsheet that was still open
    assert room.collect().warnings == []


def test_settled_in_a_workbook_stops_before_anything_is_lost(room: Room) -> None:
    room.collect(room.drop("x.ipynb", room.notebook("1 A")))
    path = room.cohort.folder / "settle.csv"
    path.write_bytes(b"PK\x03\x04 a workbook")
    with pytest.raises(CollectError, match="save it as CSV"):
        room.collect()
    assert path.read_bytes() == b"PK\x03\x04 a workbook"


def test_a_cell_that_begins_like_a_formula_is_text(room: Room) -> None:
    room.folder = room.folder / "=cmd"
    room.drop("x.jpg", b"x")
    room.collect(room.folder)
    assert room.rows()[0]["file"] == "'=cmd/x.jpg"


def test_said_for_one_and_wrong_words(room: Room) -> None:
    path = room.drop("x.ipynb", room.notebook("1 A"))
    room.collect(path)
    assert room.one(path, said="cy-03").state == "counts"
    assert room.collect().open == 0
    assert room.one(path).state == "known"
    with pytest.raises(CollectError, match="Nobody with the id"):
        room.collect(path, said="zed")
    with pytest.raises(CollectError, match="no lesson '99'"):
        room.collect(path, lesson="99")


def test_the_page_escapes_and_has_no_address(room: Room) -> None:
    room.drop("<script>alert(1)</script>.txt".replace("/", "_"), b"x")
    room.collect(room.folder)
    assert "<script" not in room.page()
    assert "&lt;script&gt;" in room.page()
    assert "http" not in room.page()


def test_a_damaged_list_of_arrivals_is_begun_again(room: Room) -> None:
    room.drop("x.ipynb", room.notebook("1 A"))
    room.collect(room.folder)
    for content in (b"{", b"[3]", b'[{"digest": "x"}]', b"\xff"):
        (room.cohort.folder / "received" / "what_came.json").write_bytes(content)
        assert Arrivals(room.cohort.folder).open() == []
        assert room.collect(room.folder).open == 1
