"""The ledger: added to, never changed; whatever is altered in it is found."""

from __future__ import annotations

import contextlib
import hashlib
import itertools
import json
import shutil
import signal
import sqlite3
import subprocess
import sys
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from sqlalchemy import event

from dryerbench.core.errors import LegToLegError
from legtoleg.ledger.entry import Draft, EntryError
from legtoleg.ledger.hash_chain import DamagedLedgerError, holds
from legtoleg.ledger.ledger import Ledger, LedgerError, TwiceError
from legtoleg.refresher.record.ledger_entry import FORM

WHEN = datetime(2027, 1, 4, 18, 0, tzinfo=UTC)


def fill(url: str, entries: int = 12) -> Ledger:
    ledger = Ledger(url, FORM)
    ledger.make(Draft("opened", "", date(2027, 1, 4), WHEN, {"shop": "Demo shop", "ledger": "ab"}))
    for number in range(1, entries):
        when = WHEN + timedelta(days=number, microseconds=number)
        data = {"topics": ["isolation"], "by": "Ida “the meter” Demo – Ω", "share": number / 7}
        ledger.append(Draft("worked", f"ada-{number:02d}", when.date(), when, data))
    return ledger


@pytest.fixture
def url(tmp_path: Path) -> str:
    return f"sqlite:///{tmp_path / 'ledger.db'}"


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("ledger") / "ledger.db"
    fill(f"sqlite:///{path}")
    return path


def test_what_was_entered_comes_back(url: str) -> None:
    ledger = fill(url)
    entries = ledger.entries()
    assert [entry.number for entry in entries] == list(range(1, 13))
    assert entries[3].data == {"topics": ["isolation"], "by": "Ida “the meter” Demo – Ω", "share": 3 / 7}
    assert entries[3].entered == WHEN + timedelta(days=3, microseconds=3)
    assert all(entry.before == before.hash for before, entry in itertools.pairwise(entries))
    assert ledger.guarded()
    assert holds(entries, entries[5].hash[:16].upper()) == entries[5]
    assert holds(entries, entries[5].hash[:4]) is None


def test_the_hash_is_the_one_that_anybody_computes(url: str) -> None:
    """The chain by json and hashlib alone: sorted keys, no spaces, as RFC 8785 has it for this data."""
    entries = fill(url).entries()
    before = "0" * 64
    for entry in entries:
        body = json.dumps(json.loads(entry.body()), sort_keys=True, separators=(",", ":"), ensure_ascii=False)
        whole = {"before": before, "body": body, "form": "leg-to-leg/ledger/1", "number": entry.number}
        text = json.dumps(whole, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
        before = hashlib.sha256(text.encode("utf-8")).hexdigest()
        assert entry.hash == before


@pytest.mark.parametrize(
    "change", ["UPDATE entries SET hash = 'x'", "UPDATE entries SET body = 'x'", "DELETE FROM entries"]
)
def test_the_database_refuses_changes(url: str, tmp_path: Path, change: str) -> None:
    fill(url)
    with sqlite3.connect(tmp_path / "ledger.db") as raw, pytest.raises(sqlite3.Error):
        raw.execute(change)
    assert len(Ledger.open(url, FORM).entries()) == 12


def _unguarded(path: Path) -> sqlite3.Connection:
    raw = sqlite3.connect(path)
    raw.execute("DROP TRIGGER entries_no_UPDATE")
    raw.execute("DROP TRIGGER entries_no_DELETE")
    return raw


FIELDS = st.sampled_from(["body", "before", "hash", "once", "number"])


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(number=st.integers(1, 12), field=FIELDS, place=st.integers(0, 10_000), letter=st.characters(codec="utf-8"))
def test_a_changed_letter_is_found(
    filled: Path, tmp_path: Path, number: int, field: str, place: int, letter: str
) -> None:
    path = tmp_path / "changed.db"
    shutil.copy(filled, path)
    raw = _unguarded(path)
    (old,) = raw.execute(f"SELECT {field} FROM entries WHERE number = ?", (number,)).fetchone()
    text = str(old) if old is not None else ""
    place %= len(text) + 1
    new = text[:place] + letter + text[place + 1 :]
    if field == "number":
        new = str(number + 50 + ord(letter))
    if new == text:
        return
    raw.execute(f"UPDATE entries SET {field} = ? WHERE number = ?", (new, number))
    raw.commit()
    raw.close()
    with pytest.raises(DamagedLedgerError, match="entry"):
        Ledger.open(f"sqlite:///{path}", FORM).entries()


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(place=st.integers(0, 2**20), flip=st.integers(1, 255))
@example(place=3665, flip=128)  # in the text of the table's own definition: SQLite's complaint quotes it
def test_a_changed_byte_of_the_file_is_found_or_changes_nothing(
    filled: Path, tmp_path: Path, place: int, flip: int
) -> None:
    """Some bytes of a database file hold nothing of the entries; what is read is either whole and right, or refused."""
    whole = Ledger.open(f"sqlite:///{filled}", FORM).entries()
    content = bytearray(filled.read_bytes())
    content[place % len(content)] ^= flip
    path = tmp_path / "flipped.db"
    path.write_bytes(content)
    read = whole
    with contextlib.suppress(LegToLegError):
        read = Ledger.open(f"sqlite:///{path}", FORM).entries()
    assert read == whole


@pytest.mark.parametrize("number", [1, 6])
def test_a_removed_or_moved_entry_is_found(filled: Path, tmp_path: Path, number: int) -> None:
    path = tmp_path / "cut.db"
    shutil.copy(filled, path)
    raw = _unguarded(path)
    raw.execute("DELETE FROM entries WHERE number = ?", (number,))
    raw.commit()
    with pytest.raises(DamagedLedgerError, match=f"entry {number}"):
        Ledger.open(f"sqlite:///{path}", FORM).entries()
    raw.execute("UPDATE entries SET number = number - 1 WHERE number > ?", (number,))
    raw.commit()
    raw.close()
    with pytest.raises(DamagedLedgerError, match=f"entry {number}"):
        Ledger.open(f"sqlite:///{path}", FORM).entries()
    with pytest.raises(DamagedLedgerError):
        Ledger.open(f"sqlite:///{path}", FORM).append(Draft("worked", "ada-01", date(2027, 5, 5), WHEN, {"topics": []}))


def _refused(ledger: Ledger, pragma: str) -> str:
    """Return what is said when the database itself is told to refuse by ``pragma``."""
    event.listen(ledger._engine, "connect", lambda connection, _: connection.execute(f"PRAGMA {pragma}"))
    with pytest.raises(LedgerError) as caught:
        ledger.append(Draft("worked", "ada-01", date(2027, 5, 5), WHEN, {"topics": ["isolation"] * 4000}))
    return str(caught.value)


def test_a_full_disk_and_a_protected_one_are_no_damage(url: str) -> None:
    assert _refused(fill(url), "max_page_count = 4").startswith("The disk is full: nothing was entered.")
    assert _refused(Ledger.open(url, FORM), "query_only = 1").startswith(
        "The ledger is read-only here, so nothing was entered."
    )
    assert len(Ledger.open(url, FORM).entries()) == 12


@pytest.mark.parametrize("bad", ["Ida \udcff Demo", 2**60, float("nan")])
def test_what_cannot_be_kept_is_no_damage(url: str, bad: object) -> None:
    ledger = fill(url)
    with pytest.raises(EntryError, match=r"^Nothing was entered: what you typed"):
        ledger.append(Draft("worked", "ada-01", date(2027, 5, 5), WHEN, {"topics": [], "by": bad}))
    assert len(ledger.entries()) == 12


def test_an_error_of_somebody_elses_is_not_told_as_damage(url: str) -> None:
    def unless(_: object) -> None:
        raise ValueError("a mistake in the program")

    with pytest.raises(ValueError, match=r"^a mistake in the program$"):
        fill(url).append(Draft("worked", "ada-01", date(2027, 5, 5), WHEN, {"topics": []}), unless)


def test_a_zeroed_page_of_an_index_is_found_by_the_databases_own_check(filled: Path, tmp_path: Path) -> None:
    assert Ledger.open(f"sqlite:///{filled}", FORM).examine()
    path = tmp_path / "zeroed.db"
    shutil.copy(filled, path)
    raw = sqlite3.connect(path)
    (size,) = raw.execute("PRAGMA page_size").fetchone()
    (page,) = raw.execute("SELECT rootpage FROM sqlite_master WHERE type = 'index'").fetchone()
    raw.close()
    content = bytearray(path.read_bytes())
    content[(page - 1) * size : page * size] = bytes(size)
    path.write_bytes(content)
    ledger = Ledger.open(f"sqlite:///{path}", FORM)
    assert len(ledger.entries()) == 12, "the chain alone does not see it"
    with pytest.raises(DamagedLedgerError, match="the database's own check says"):
        ledger.examine()


def test_once_is_once(url: str) -> None:
    ledger = fill(url, 1)
    data = {"issue": "ada-01.t1", "attempt": 1, "items": []}
    ledger.append(Draft("issued", "ada-01", date(2027, 1, 5), WHEN, data))
    with pytest.raises(TwiceError):
        ledger.append(Draft("issued", "ada-01", date(2027, 1, 5), WHEN, data))
    assert len(ledger.entries()) == 2


def test_a_lost_ledger_is_not_made_anew(tmp_path: Path, url: str) -> None:
    with pytest.raises(LedgerError, match="There is no ledger"):
        Ledger.open(url, FORM)
    (tmp_path / "ledger.db").write_bytes(b"")
    with pytest.raises(LedgerError, match="has no entries"):
        Ledger.open(url, FORM)
    (tmp_path / "ledger.db").write_bytes(b"this is no database, it is a text" * 40)
    with pytest.raises(DamagedLedgerError, match="cannot be read as a database"):
        Ledger.open(url, FORM)
    with pytest.raises(LedgerError, match="SQLite or PostgreSQL"):
        Ledger("mysql://nowhere/x", FORM)
    with pytest.raises(LedgerError, match="no SQLAlchemy address"):
        Ledger("nonsense", FORM)


ADDING = """
import sys
from datetime import UTC, date, datetime
from legtoleg.ledger.entry import Draft
from legtoleg.ledger.ledger import Ledger
from legtoleg.refresher.record.ledger_entry import FORM
ledger = Ledger.open(sys.argv[1], FORM)
for number in range(int(sys.argv[2])):
    ledger.append(Draft("worked", sys.argv[3], date(2027, 1, 5), datetime.now(UTC), {"topics": ["isolation"] * 400}))
    print(number, flush=True)
"""


def test_two_who_add_at_once_make_one_chain(url: str) -> None:
    ledger = fill(url, 1)
    adding = [subprocess.Popen([sys.executable, "-c", ADDING, url, "8", who]) for who in ("ada-01", "bo-02")]
    assert [one.wait(60) for one in adding] == [0, 0]
    entries = ledger.entries()
    assert len(entries) == 17
    assert {who: sum(entry.who == who for entry in entries) for who in ("ada-01", "bo-02")} == {"ada-01": 8, "bo-02": 8}


def test_a_kill_while_adding_leaves_a_whole_ledger(url: str) -> None:
    """Killed at different moments: what was said to be entered is there, and at most one more."""
    ledger = fill(url, 1)
    for round_ in range(3):
        before = len(ledger.entries())
        adding = subprocess.Popen([sys.executable, "-c", ADDING, url, "10000", "ada-01"], stdout=subprocess.PIPE)
        assert adding.stdout is not None
        for _ in range(1 + 2 * round_):
            adding.stdout.readline()
        adding.send_signal(signal.SIGKILL)
        said = 1 + 2 * round_ + adding.stdout.read().count(b"\n")
        adding.stdout.close()
        adding.wait(30)
        added = len(ledger.entries()) - before
        assert said <= added <= said + 1
