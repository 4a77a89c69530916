from __future__ import annotations

import hashlib
import json
import shutil
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Semaphore, current_thread, main_thread

import nbformat
import pytest

from dryerbench.course.questions import BenchQuestion
from dryerbench.registry import SHEETS
from legtoleg.classroom import receipts
from legtoleg.classroom.class_folder import ClassFolder
from legtoleg.classroom.desk_work import take_in, work
from legtoleg.classroom.receipts import Receipts
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.cohort_setup import set_up
from legtoleg.cohort.gradebook import Book
from legtoleg.cohort.marks import all_marks
from legtoleg.cohort.one_at_a_time import at_work
from legtoleg.collecting.keeping import sweep
from legtoleg.demo.simulated_apprentices import filled_in, simulate

LESSON = "03_heater_power"


def typed(answer: str) -> str:
    """Return how the answer stands in a notebook's file."""
    return json.dumps(f'breaker_limit = "{answer}"')


def page(cohort: Cohort, answer: str) -> bytes:
    """Return the released lesson with one answer typed in."""
    notebook = json.loads(cohort.released(LESSON).read_text(encoding="utf-8"))
    cell = next(cell for cell in notebook["cells"] if "".join(cell["source"]).startswith("breaker_limit ="))
    cell["source"] = f'breaker_limit = "{answer}"'
    return json.dumps(notebook).encode()


def test_what_is_handed_in_is_kept_byte_by_byte_with_a_receipt(room: ClassFolder) -> None:
    kept = Receipts(room)
    one = kept.keep("ada-01", LESSON, b"page one")
    assert (one.number, one.size, one.sha256) == (1, 8, hashlib.sha256(b"page one").hexdigest())
    assert kept.kept(one).read_bytes() == b"page one"
    assert kept.keep("ada-01", LESSON, b"page one") == one
    assert kept.keep("ada-01", LESSON, b"page two").number == 2
    assert kept.keep("ada-01", LESSON, b"page one").number == 3
    assert Receipts(room).all == kept.all


def test_a_receipt_cut_by_a_kill_is_none(room: ClassFolder) -> None:
    Receipts(room).keep("ada-01", LESSON, b"page one")
    path = room.root / receipts.FILE
    whole = path.read_bytes()
    path.write_bytes(whole + whole[:40])
    again = Receipts(room)
    assert len(again.all) == 1
    assert again.keep("ada-01", LESSON, b"page two").number == 2
    assert len(Receipts(room).all) == 2


def test_collecting_sweeps_no_page_that_is_just_written(room: ClassFolder, monkeypatch: pytest.MonkeyPatch) -> None:
    kept, real = Receipts(room), receipts.os.fsync

    def meanwhile(handle: int) -> None:
        sweep(room.cohort.folder)
        real(handle)

    monkeypatch.setattr(receipts.os, "fsync", meanwhile)
    one = kept.keep("ada-01", LESSON, b"page one")
    assert kept.kept(one).read_bytes() == b"page one"


def test_taking_in_disturbs_no_hand_in_that_is_just_written(room: ClassFolder, monkeypatch: pytest.MonkeyPatch) -> None:
    """Two threads: one hands in and stands still in the middle of each write, the other takes in meanwhile."""
    kept, real = Receipts(room), receipts.os.fsync
    kept.keep("ada-01", LESSON, page(room.cohort, "15 A"))
    written, taken = Semaphore(0), Semaphore(0)

    def stands_still(handle: int) -> None:
        real(handle)
        if current_thread() is not main_thread():
            written.release()
            assert taken.acquire(timeout=20)

    monkeypatch.setattr(receipts.os, "fsync", stands_still)
    with ThreadPoolExecutor(1) as pool:
        one = pool.submit(kept.keep, "bo-02", LESSON, page(room.cohort, "20 A"))
        for count in (1, 0, 1):  # the page, its name, the receipt: before the last there is nothing to take in
            assert written.acquire(timeout=20)
            assert take_in(room) == count
            taken.release()
        assert kept.kept(one.result(timeout=20)).is_file()
    monkeypatch.undo()
    assert [each.apprentice for each in Receipts(room).all] == ["ada-01", "bo-02"]
    assert take_in(room) == 0


def test_reading_receipts_takes_nothing_from_a_line_that_is_just_written(room: ClassFolder) -> None:
    Receipts(room).keep("ada-01", LESSON, b"page one")
    path = room.root / receipts.FILE
    half = path.read_bytes() * 2
    path.write_bytes(half[:-10])
    assert len(receipts.receipts_so_far(room)) == 1
    assert path.read_bytes() == half[:-10]


def test_what_a_kill_left_half_written_is_gone_after_the_next_start(room: ClassFolder) -> None:
    left = room.cohort.folder / "received" / "ada-01" / f"{receipts.COMING}x"
    left.parent.mkdir(parents=True)
    left.write_bytes(b"half")
    Receipts(room)
    assert not left.exists()


def test_the_board_and_the_command_line_take_the_same_lock(room: ClassFolder) -> None:
    Receipts(room).keep("ada-01", LESSON, page(room.cohort, "30 A"))
    folder = str(room.cohort.folder)
    desk = [sys.executable, "-m", "legtoleg.classroom.desk_work", folder, "take-in"]
    call = "import sys; from legtoleg.cli.command import main; sys.argv[0] = 'legtoleg'; main()"
    line = [sys.executable, "-c", call, "collect", folder]
    for command in (desk, line):
        with at_work(room.cohort.folder):
            waits = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
            assert waits.stdout is not None
            assert "is at work in this cohort" in waits.stdout.readline()
            assert waits.poll() is None
            assert not (room.cohort.folder / "submitted" / "ada-01").exists() or command == line
        said, _ = waits.communicate(timeout=60)
        assert waits.returncode == 0, said
    assert (room.cohort.folder / "submitted" / "ada-01" / LESSON).is_dir()


@pytest.mark.parametrize("fails", ["page", "receipt"])
def test_a_full_disk_gives_no_receipt_and_leaves_nothing_half(
    room: ClassFolder, monkeypatch: pytest.MonkeyPatch, fails: str
) -> None:
    kept = Receipts(room)
    kept.keep("ada-01", LESSON, b"page one")
    calls = []

    def full(_: int) -> None:
        calls.append(1)
        if len(calls) == (1 if fails == "page" else 3):
            raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(receipts.os, "fsync", full)
        with pytest.raises(OSError, match="No space"):
            kept.keep("ada-01", LESSON, b"page two")
    assert len(kept.all) == 1
    assert len(Receipts(room).all) == 1
    assert not [*room.cohort.folder.rglob(".part-*"), *room.cohort.folder.rglob(f"{receipts.COMING}*")]
    assert kept.keep("ada-01", LESSON, b"page two").number == 2


def test_the_last_page_goes_through_collecting_and_is_marked_as_any_other(room: ClassFolder) -> None:
    kept = Receipts(room)
    for answer in ("15 A", "20 A"):
        kept.keep("ada-01", LESSON, page(room.cohort, answer))
    assert take_in(room) == 2
    assert take_in(room) == 0
    text = room.cohort.submitted("ada-01", LESSON).read_text()
    assert typed("20 A") in text
    assert typed("15 A") not in text
    came = json.loads((room.cohort.folder / "received" / "what_came.json").read_text())
    assert [row["state"] for row in came] == ["counts"]
    kept.keep("ada-01", LESSON, page(room.cohort, "15 A"))  # back to the first: the last one counts
    assert take_in(room) == 1
    assert typed("15 A") in room.cohort.submitted("ada-01", LESSON).read_text()


@pytest.mark.slow
@pytest.mark.filterwarnings(
    "ignore::pytest.PytestUnraisableExceptionWarning"
)  # a loop left by a library of another test
def test_marks_by_class_and_by_kit_are_the_same(room: ClassFolder, tmp_path: Path) -> None:
    from legtoleg.cohort.marking_run import mark_cohort
    from legtoleg.collecting.collecting_run import collect_into

    people = {(lesson, number): simulate(number, 1, lesson) for lesson in SHEETS for number in (1, 2)}
    roster = tmp_path / "roster.csv"
    roster.write_text("id,name\n" + "".join(f"{who.apprentice},{who.name}\n" for who in list(people.values())[:2]))
    set_up(room.cohort.folder, roster)
    room.prepare()
    shutil.copytree(room.cohort.folder, tmp_path / "by-kit")
    by_kit, by_class = Cohort.at(tmp_path / "by-kit"), Receipts(room)
    for (lesson, _), who in people.items():
        content = nbformat.writes(filled_in(nbformat.read(room.cohort.released(lesson), as_version=4), who)).encode()
        by_class.keep(who.apprentice, lesson, content)
        (tmp_path / f"{lesson}.ipynb").write_bytes(content)
        collect_into(by_kit, [tmp_path / f"{lesson}.ipynb"], who.apprentice)
    assert work(room, "mark").startswith(f"{len(people)} graded")
    mark_cohort(by_kit.folder)
    marks = []
    for cohort in (room.cohort, by_kit):
        with Book(cohort.book) as book:
            marks.append([mark.row() for mark in all_marks(cohort, book)])
    assert marks[0] == marks[1]
    asked = {(who.apprentice, lesson, deed.question) for (lesson, _), who in people.items() for deed in who.deeds}
    assert len(marks[0]) == len(asked) > 2 * 10 * len(SHEETS)
    by_bench = {one.name for sheet in SHEETS.values() for one in sheet.questions if isinstance(one, BenchQuestion)}
    earned = {row["question"] for row in marks[0] if float(row["points"])}
    assert by_bench <= earned  # what was done on a bench is in the page, and counts either way
    assert len({row["points"] for row in marks[0]}) > 2
