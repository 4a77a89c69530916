"""The commands as a shop types them: a day from set-up to proof, one clear line for what is wrong, a kill."""

from __future__ import annotations

import errno
import os
import shutil
import signal
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from dryerbench.core.errors import LegToLegError
from legtoleg.cli.refresher_commands import app
from legtoleg.ledger.ledger import LedgerError
from legtoleg.refresher.proof import certificate
from legtoleg.refresher.proof.shop_pages import due_page, shop_page
from legtoleg.refresher.record.due_list import dues
from legtoleg.refresher.record.shop import Settings, Shop
from legtoleg.refresher.testing.issuing import issue
from legtoleg.refresher.testing.recording import Recorder
from legtoleg.sandbox.engine import Run
from legtoleg.witness.witness_record import WitnessRecord


@pytest.fixture
def run(tmp_path: Path) -> Callable[..., str]:
    """Return how to type a command; an error of ours is its one line."""

    def typed(*words: object) -> str:
        done = CliRunner().invoke(app, [str(word) for word in words])
        if isinstance(done.exception, LegToLegError):
            assert "\n" not in str(done.exception)
            return f"legtoleg: {done.exception}"
        assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
        return done.output

    return typed


def test_a_day_from_set_up_to_proof(
    tmp_path: Path, people: Path, run: Callable[..., str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(certificate, "chromium", lambda: None)
    at = tmp_path / "s"
    said = run("shop", at, "--people", people, "--zone", "America/Denver", "--name", "Demo shop")
    assert "12 people" in said
    assert "The course's intervals are in topics.csv there" in said
    assert (
        "When someone leaves, take their line out of people.csv. They are not due any more, and their entries stay."
        in said
    )
    assert "– Never passed here\n    ada-01" in run("due", at)
    said = run("issue", at, "--to", "ada-01,bo-02", "--to", "cy-03")
    assert said.count("try 1, 1") == 3
    assert "Entry 5, for ada-01" in run(
        "call", at, "--who", "ada-01", "--trigger", "near-miss", "--by", "Ida Demo", "--topic", "isolation"
    )
    said = run("worked", at, "--who", "bo-02", "--by", "Ida Demo", "--topic", "live-reading")
    assert "Entry 6, for bo-02" in said
    assert "\nNo effect on live-reading (never passed here" in said
    said = run("talked", at, "--with", "cy-03", "--by", "Ida Demo")
    assert "Entry 7. Next: legtoleg refresher issue" in said
    assert "\nNo effect: no missed test was waiting for it." in said
    said = run("correct", at, "--entry", 6, "--reason", "it was ed-05", "--by", "Ida Demo")
    assert "entry 6 does not count any more" in said
    assert "\nNo effect: nobody's standing changes." in said
    last = Shop.at(at).entries()[-1].hash
    said = run("verify", at, "--kept", last)
    assert f"Whole: 8 entries, each chained to the one before. Last hash: {last}" in said
    assert "is that of entry 8" in said
    assert "The database has examined its own file and found nothing wrong." in said
    assert "cannot prove that nobody replaced the whole ledger" in said
    assert "0 of 12 are current" in run("today", at)
    assert "statements.json" in run("export", at, tmp_path / "out")
    assert "8 entries" in run("backup", at, tmp_path / "kept.zip")
    assert "Restored: 8 entries, whole" in run("restore", tmp_path / "kept.zip", tmp_path / "again")
    assert run("issue", at, "--due").count("ada-01: the open one again") == 1
    assert "Say to whom" in run("issue", at)
    assert {path.name for path in (at / "pages").iterdir()} == {"due.html", "due.ics", "shop.html"}


@pytest.mark.parametrize(
    ("words", "line"),
    [
        (("issue", "{s}", "--to", "zed-99"), "Nobody with the id 'zed-99'"),
        (("call", "{s}", "--who", "zed-99", "--trigger", "change", "--by", "x"), "Nobody with the id 'zed-99'"),
        (("call", "{s}", "--who", "ada-01", "--trigger", "bad-luck", "--by", "x"), "There is no trigger 'bad-luck'"),
        (("worked", "{s}", "--who", "ada-01", "--by", "x", "--on", "2999-01-01"), "2999-01-01 is in the future"),
        (("worked", "{s}", "--who", "ada-01", "--by", "x", "--topic", "roofs"), "There is no topic 'roofs'"),
        (("due", "{s}", "--on", "soon"), "'soon' is not a day"),
        (("due", "{s}", "--on", "1990-01-01"), "1990-01-01 is before"),
        (("worked", "{s}", "--who", "ada-01", "--by", "x", "--on", "1990-01-01"), "1990-01-01 is before"),
        (("due", "{s}/nowhere"), "is not a shop's folder"),
        (("certificate", "{s}", "--for", "ada-01"), "has not passed a refresher here"),
        (("verify", "{s}", "--kept", "0123456789abcdef"), "is not in this ledger"),
        (("correct", "{s}", "--entry", "77", "--reason", "x", "--by", "x"), "There is no entry 77"),
        (("restore", "{s}/people.csv", "{s}/new"), "is not a backup"),
        (("shop", "{s}", "--people", "{s}/people.csv", "--zone", "UTC", "--name", "x"), "is a shop's folder already"),
        (("shop", "{s}/x", "--people", "{s}/people.csv", "--zone", "Mars", "--name", "x"), "There is no time zone"),
        (("record", "{s}", "x.ipynb", "--by", "zed-99"), "Nobody with the id 'zed-99'"),
    ],
)
def test_what_is_wrong_is_said_in_one_line(
    shop: Shop, run: Callable[..., str], words: tuple[str, ...], line: str
) -> None:
    shutil.rmtree(shop.folder)
    assert "12 people" in run(
        "shop",
        shop.folder,
        "--people",
        shop.folder.parent / "people-of-the-shop.csv",
        "--zone",
        "UTC",
        "--name",
        "Demo",
    )
    before = Shop.at(shop.folder).entries()
    said = run(*(word.format(s=shop.folder) for word in words))
    assert said.startswith("legtoleg: ")
    assert line in said
    assert Shop.at(shop.folder).entries() == before


def test_a_damaged_ledger_is_one_line_everywhere(shop: Shop, run: Callable[..., str]) -> None:
    (shop.folder / "ledger.db").write_bytes(b"what was a ledger" * 300)
    for words in (("due",), ("today",), ("verify",), ("issue", "--to", "ada-01"), ("certificate", "--for", "ada-01")):
        said = run(words[0], shop.folder, *words[1:])
        assert said.startswith("legtoleg: The ledger is damaged: its file cannot be read as a database")
        assert "restore" in said


def test_the_witness_record_is_on_the_page_in_the_export_and_in_the_backup(
    shop: Shop, seen: WitnessRecord, run: Callable[..., str], tmp_path: Path
) -> None:
    last = seen.entries()[-1].hash
    run("today", shop.folder)
    assert "watched" in (shop.folder / "pages" / "shop.html").read_text(encoding="utf-8")
    assert "witness.csv" in run("export", shop.folder, tmp_path / "out")
    run("backup", shop.folder, tmp_path / "kept.zip")
    said = run("restore", tmp_path / "kept.zip", tmp_path / "again")
    assert f"The witness record too: 6 entries, whole. Last hash: {last}" in said
    (shop.folder / "witness.db").write_bytes(b"no database")
    assert "! The witness record cannot be read, so it is not on the page: The ledger is damaged" in run(
        "today", shop.folder
    )
    assert "cannot be read, so no real dryer is on this page" in (shop.folder / "pages" / "shop.html").read_text(
        encoding="utf-8"
    )


def test_the_numbers_that_correct_asks_for_are_listed(shop: Shop, run: Callable[..., str]) -> None:
    for who in ("ada-01", "bo-02"):
        shop.enter(shop.draft("worked", who, shop.today(), topics=["isolation"], by="Ida Demo"))
    said = run("entries", shop.folder, "--who", "bo-02").splitlines()
    assert said[0].split(None, 3)[:3] == ["3", "2027-01-04", "bo-02"]
    assert said[0].endswith("work seen      seen doing the work by Ida Demo: Make it dead: isolate, lock, tag")
    assert "legtoleg refresher correct" in said[1]
    shop.enter(shop.draft("corrected", "bo-02", shop.today(), entry=3, reason="it was Cy", by="Ida Demo"))
    everything = run("entries", shop.folder).splitlines()
    assert [line.split()[0] for line in everything[:-1]] == ["1", "2", "3", "4"]
    assert everything[2].endswith("(does not count: entry 4)")
    assert run("entries", shop.folder, "--who", "shop").count("set up") == 1
    assert "Nothing is entered for cy-03 yet" in run("entries", shop.folder, "--who", "cy-03")
    assert "Nobody with the id 'zed-99'" in run("entries", shop.folder, "--who", "zed-99")


def test_a_leaver_is_not_due_and_their_entries_stay(shop: Shop, run: Callable[..., str]) -> None:
    shop.enter(shop.draft("worked", "bo-02", shop.today(), topics=["isolation"], by="Ida Demo"))
    rest = [line for line in (shop.folder / "people.csv").read_text("utf-8").splitlines() if "bo-02" not in line]
    (shop.folder / "people.csv").write_text("\n".join(rest) + "\n", encoding="utf-8")
    entries = shop.entries()
    found = dues(shop, shop.today(), entries)
    assert "bo-02" not in due_page(found)
    page = shop_page(found, entries)
    assert '<td class="nowrap">entry 2</td><td class="nowrap">2027-01-04</td><td class="nowrap">bo-02</td>' in page
    assert "seen doing the work" in run("entries", shop.folder, "--who", "bo-02")


def test_the_topics_of_an_older_shop_are_written_once(shop: Shop, run: Callable[..., str]) -> None:
    assert "its second line says how" in run("topics", shop.folder)
    assert "already: change it there" in run("topics", shop.folder)


def test_a_cut_end_without_its_note_is_not_silent(shop: Shop, run: Callable[..., str]) -> None:
    for who in ("ada-01", "bo-02"):
        shop.enter(shop.draft("worked", who, shop.today(), topics=["isolation"], by="Ida Demo"))
    cut = shop.entries()[-1].hash
    with sqlite3.connect(shop.folder / "ledger.db") as raw:
        raw.execute("DROP TRIGGER entries_no_DELETE")
        raw.execute("DELETE FROM entries WHERE number = 3")
        raw.execute("CREATE TRIGGER entries_no_DELETE BEFORE DELETE ON entries BEGIN SELECT RAISE(ABORT, 'no'); END")
    (shop.folder / "last-hash.txt").unlink()
    done = CliRunner().invoke(app, ["verify", str(shop.folder)])
    assert done.exit_code == 1
    assert "! last-hash.txt is missing, although the ledger has entries" in done.output
    assert "Whole: 2 entries" in done.output
    assert "is not in this ledger" in run("verify", shop.folder, "--kept", cut)
    assert "! last-hash.txt is missing" in run("due", shop.folder)


@pytest.mark.parametrize(
    ("number", "line"),
    [
        (errno.ENOSPC, "The disk is full: "),
        (errno.EROFS, "cannot be opened or changed here (Read-only file system)"),
        (errno.EACCES, "cannot be opened or changed here (Permission denied)"),
        (errno.EIO, "cannot be used: Input/output error"),
    ],
)
def test_a_disk_that_refuses_is_one_line(
    shop: Shop, run: Callable[..., str], monkeypatch: pytest.MonkeyPatch, number: int, line: str
) -> None:
    def refuse(*_: object, **where: object) -> None:
        raise OSError(number, os.strerror(number), str(where.get("dir")))

    monkeypatch.setattr("legtoleg.core.files.tempfile.mkstemp", refuse)
    for words in (("due",), ("today",), ("backup", shop.folder.parent / "kept.zip")):
        said = run(words[0], shop.folder, *words[1:])
        assert said.startswith("legtoleg: ")
        assert line in said
        assert "damaged" not in said
    with pytest.raises(LedgerError, match="Entry 2 is in the ledger, so do not enter it again"):
        shop.enter(shop.draft("worked", "ada-01", shop.today(), topics=["isolation"], by="Ida Demo"))
    monkeypatch.undo()
    assert "Whole: 2 entries" in run("verify", shop.folder)


KILLED = """
import os, signal, sys
from pathlib import Path
from sqlalchemy import event
from legtoleg.sandbox.engine import Run
from legtoleg.refresher.testing.recording import Recorder
from legtoleg.ledger.noted_ledger import NotedLedger
from legtoleg.refresher.record.shop import Shop

class Nothing:
    def run(self, job): return Run()
    def close(self): pass

def die(*_):
    os.kill(os.getpid(), signal.SIGKILL)

def at_insert(connection, cursor, statement, *_):
    if statement.startswith("INSERT"):
        die()

def at_commit(connection):
    if connection.get_execution_options().get("writing"):
        die()

def record(folder, notebook, where):
    shop = Shop.at(Path(folder))
    recorder = Recorder(shop, Nothing())
    (piece,) = recorder.pieces([Path(notebook)])
    if where == "before the entry":
        event.listen(shop.ledger._engine, "before_cursor_execute", at_insert)
    if where == "after the entry, not yet committed":
        event.listen(shop.ledger._engine, "after_cursor_execute", at_insert)
    if where == "at the commit":
        event.listen(shop.ledger._engine, "commit", at_commit)
    if where == "before the note":
        NotedLedger.note = die
    recorder.record(piece)

for line in sys.stdin.read().splitlines():
    folder, notebook, where = line.split("|")
    if where == "not at all":  # comes first, so that the others find everything loaded
        print(record(folder, notebook, where) or 0, flush=True)
        continue
    child = os.fork()
    if not child:
        record(folder, notebook, where)
        os._exit(0)
    print(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), flush=True)
"""
WHERE = {
    "not at all": True,
    "before the entry": False,
    "after the entry, not yet committed": False,
    "at the commit": False,
    "before the note": True,
}
"""Where it is killed, and whether the entry is then there."""


class Nothing:
    """An engine that shows nothing."""

    def run(self, job: Any) -> Run:
        return Run()

    def close(self) -> None:
        pass


@pytest.mark.skipif(os.name != "posix", reason="This system has no such kill.")
def test_a_kill_while_recording_leaves_a_whole_ledger(
    tmp_path: Path, people: Path, run: Callable[..., str], filled: Callable[..., bytes]
) -> None:
    shops = [
        Shop.make(tmp_path / f"s{place}", Settings("Demo shop", "America/Denver"), people)
        for place in range(len(WHERE))
    ]
    given = []
    for shop in shops:
        issued = issue(shop, "ada-01")
        issued.notebook.write_bytes(filled(issued))  # as it was given out it would be refused
        given.append(issued.notebook)
    lines = [f"{shop.folder}|{test}|{where}" for shop, test, where in zip(shops, given, WHERE, strict=True)]
    done = subprocess.run(
        [sys.executable, "-W", "ignore", "-c", KILLED],
        input="\n".join(lines),
        check=True,
        capture_output=True,
        text=True,
    )
    ends = [int(code) for code in done.stdout.split()]
    assert ends == [0 if where == "not at all" else -signal.SIGKILL for where in WHERE], done.stderr[-500:]
    for shop, test, entered in zip(shops, given, WHERE.values(), strict=True):
        assert f"Whole: {3 if entered else 2} entries" in run("verify", shop.folder)
        again = Recorder(Shop.at(shop.folder), Nothing())
        (piece,) = again.pieces([test])
        if entered:
            with pytest.raises(LegToLegError, match="was recorded before: entry 3"):
                again.record(piece)
        else:
            assert again.record(piece).entry.number == 3
        assert len(Shop.at(shop.folder).entries()) == 3
