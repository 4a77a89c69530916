"""The witness's record: added to, never changed; the last machine counts; a step missed is no pass."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest

from dryerbench.core.errors import LegToLegError
from legtoleg.ledger.corrections import CorrectionError
from legtoleg.ledger.hash_chain import DamagedLedgerError
from legtoleg.ledger.ledger import LedgerError
from legtoleg.witness.job_steps import job_steps, read_steps
from legtoleg.witness.witness_record import WitnessError, WitnessRecord, witnessed, words_of

ALL, NOT_4, NOT_5 = read_steps("1-9", ""), read_steps("1-3,5-9", "4"), read_steps("1-4,6-9", "5")
KIND = "electric, cord and plug, three coils"
DAY = date(2027, 1, 4)


@pytest.fixture
def record(tmp_path: Path) -> WitnessRecord:
    (tmp_path / "roster.csv").write_text("id,name\nada-01,Ada Demo\nbo-02,Bo Demo\n", encoding="utf-8")
    return WitnessRecord(tmp_path, lambda: datetime(2027, 1, 4, 18, 0, tzinfo=UTC))


def test_nothing_is_entered_before_the_first(record: WitnessRecord) -> None:
    assert record.entries() == []
    assert witnessed(record.folder) == {}
    assert sorted(path.name for path in record.folder.iterdir()) == ["roster.csv"], "reading makes no file"


@pytest.mark.parametrize("number", range(1, 10))
def test_each_step_missed_is_no_pass(record: WitnessRecord, number: int) -> None:
    step = job_steps()[number - 1]
    record.see("ada-01", "Ida Demo", KIND, {**ALL, step.name: False}, DAY)
    found = witnessed(record.folder)["ada-01"]
    assert not found.passed
    assert found.missed == (step.name,)
    assert found.held == ((step.name,) if step.safety else ())
    assert f"step {number}, " in found.words
    assert ("(safety)" in found.words) == step.safety


def test_the_last_machine_counts(record: WitnessRecord) -> None:
    record.see("ada-01", "Ida Demo", KIND, NOT_4, date(2027, 1, 2))
    record.see("ada-01", "Ida Demo", KIND, ALL, DAY, "Jo Demo", "calm")
    record.see("bo-02", "Ida Demo", KIND, ALL, date(2027, 1, 3))
    record.see("bo-02", "Jo Demo", "gas, no; electric, two coils", NOT_5, DAY)
    record.see("bo-02", "Jo Demo", KIND, ALL, date(2026, 12, 1))
    found = witnessed(record.folder)
    assert found["ada-01"].words == f"seen on 2027-01-04 by Ida Demo, on {KIND}"
    assert found["ada-01"].passed
    assert (found["bo-02"].entry, found["bo-02"].passed) == (5, False), "an older day entered later changes nothing"
    assert [entry.kind for entry in record.entries()] == ["opened", *["seen"] * 5]
    assert words_of(record.entries()[2]).endswith("Live readings by Jo Demo. calm")


def test_a_correction_takes_an_entry_back_and_keeps_it(record: WitnessRecord) -> None:
    record.see("ada-01", "Ida Demo", KIND, NOT_4, date(2027, 1, 2))
    record.see("ada-01", "Ida Demo", KIND, ALL, DAY)
    record.correct(3, "it was Bo", "Ida Demo")
    assert witnessed(record.folder)["ada-01"].missed == ("path-to-case",)
    record.correct(4, "it was Ada after all", "Ida Demo")
    assert witnessed(record.folder)["ada-01"].passed
    assert len(record.entries()) == 5
    for number, says in ((1, "opens the record"), (9, "There is no entry 9"), (4, "does not count already")):
        with pytest.raises(CorrectionError, match=says):
            record.correct(number, "x", "y")
    with pytest.raises(CorrectionError, match="Say why"):
        record.correct(2, " ", "y")


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"who": "zed"}, "Nobody with the id 'zed' is in roster.csv; there are: ada-01, bo-02"),
        ({"by": " "}, "Say who watched"),
        ({"by": "ada DEMO"}, "cannot be the witness of their own work"),
        ({"by": "ada-01"}, "cannot be the witness of their own work"),
        ({"machine": "-"}, "Say on what kind of dryer"),
    ],
)
def test_what_cannot_be_entered(record: WitnessRecord, change: dict[str, Any], says: str) -> None:
    with pytest.raises(WitnessError, match=says):
        record.see(**{"who": "ada-01", "by": "Ida Demo", "machine": KIND, "steps": ALL, "on": DAY, **change})
    assert record.entries() == []


def test_the_same_twice_is_entered_once(record: WitnessRecord) -> None:
    record.see("ada-01", "Ida Demo", KIND, ALL, DAY)
    with pytest.raises(WitnessError, match="is in the record already: entry 2"):
        record.see("ada-01", "Ida Demo", KIND, ALL, DAY)
    record.correct(2, "wrong day", "Ida Demo")
    assert record.see("ada-01", "Ida Demo", KIND, ALL, DAY).number == 4, "after a correction it may be entered again"


def test_days(record: WitnessRecord) -> None:
    assert record.day("2026-12-24") == date(2026, 12, 24)
    for text, says in (("2027-02-04", "future"), ("1990-01-01", "two years ago"), ("soon", "'soon' is not a day")):
        with pytest.raises(WitnessError, match=says):
            record.day(text)


def _changed(folder: Path) -> None:
    with sqlite3.connect(folder / "witness.db") as raw:
        raw.execute("DROP TRIGGER entries_no_UPDATE")
        raw.execute("""UPDATE entries SET body = replace(body, '"path-to-case":false', '"path-to-case":true')""")
    raw.close()


def _older(folder: Path) -> None:
    shutil.copy(folder / "older.db", folder / "witness.db")


def _gone(folder: Path) -> None:
    (folder / "witness.db").unlink()


@pytest.mark.parametrize(
    ("damage", "kind", "says"),
    [
        (_changed, DamagedLedgerError, "its hash does not fit what it says"),
        (_older, DamagedLedgerError, "entry 3, noted in witness-last-hash.txt, is not in it"),
        (_gone, LedgerError, "There is no ledger"),
    ],
)
def test_damage_is_found_and_nothing_is_added(
    record: WitnessRecord, damage: Callable[[Path], None], kind: type[LegToLegError], says: str
) -> None:
    record.see("ada-01", "Ida Demo", KIND, NOT_4, date(2027, 1, 2))
    shutil.copy(record.folder / "witness.db", record.folder / "older.db")
    record.see("bo-02", "Ida Demo", KIND, ALL, DAY)
    damage(record.folder)
    with pytest.raises(kind, match=says) as told:
        witnessed(record.folder)
    assert "ut your last copies of witness.db and witness-last-hash.txt back" in str(told.value)
    with pytest.raises(kind, match=says):
        replace(record).see("bo-02", "Ida Demo", KIND, ALL, date(2027, 1, 3))


def test_words_from_outside_hold_no_control_characters(record: WitnessRecord) -> None:
    entry = record.see("ada-01", "Ida\x1b[2J\nDemo", f"{KIND}\x07", ALL, DAY)
    assert (entry.data["by"], entry.data["machine"]) == ("Ida[2J Demo", KIND)
