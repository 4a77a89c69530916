"""Backup and restore: all of it comes back, a changed byte does not, and nothing is overwritten."""

from __future__ import annotations

import contextlib
import hashlib
import json
import zipfile
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from dryerbench.core.errors import LegToLegError
from legtoleg.ledger.hash_chain import DamagedLedgerError
from legtoleg.refresher.proof.backup import SUMS, WITNESSES, BackupError, back_up, read_backup, restore
from legtoleg.refresher.proof.export import export
from legtoleg.refresher.proof.shop_pages import shop_page
from legtoleg.refresher.record.due_list import dues
from legtoleg.refresher.record.shop import Shop
from legtoleg.witness.witness_record import FILE, NOTE, WitnessRecord, witnessed


@pytest.fixture
def lived(shop: Shop, outcome: Callable[..., Any]) -> Shop:
    outcome(shop, "ada-01", date(2027, 1, 4))
    (shop.folder / "received").mkdir()
    (shop.folder / "received" / "ada-01.r1-ab.ipynb").write_bytes(b"{}")
    (shop.folder / "topics.csv").write_text("topic,months\nisolation,6\n", encoding="utf-8")
    return Shop.at(shop.folder, shop.clock)


def test_all_of_it_comes_back(lived: Shop, tmp_path: Path, clock: Any) -> None:
    last = back_up(lived, tmp_path / "kept.zip")
    again = restore(tmp_path / "kept.zip", tmp_path / "new")
    assert again.entries() == lived.entries()
    assert again.entries()[-1] == last
    assert again.ledger.guarded()
    day = date(2027, 3, 1)
    assert [one.found for one in dues(again, day).people] == [one.found for one in dues(lived, day).people]
    assert (again.folder / "received" / "ada-01.r1-ab.ipynb").read_bytes() == b"{}"
    assert again.topics["isolation"].months == 6
    there = Shop.at(again.folder, clock)
    there.enter(there.draft("worked", "ada-01", there.today(), topics=["isolation"], by="Ida Demo"))
    assert len(there.entries()) == 4


def test_the_witness_record_goes_round(lived: Shop, seen: WitnessRecord, tmp_path: Path, clock: Any) -> None:
    """Watched, backed up, restored: the same entries and hashes, on the page and in the export too; and it goes on."""
    before = seen.entries()
    assert len(before) == 6
    back_up(lived, tmp_path / "kept.zip")
    again = restore(tmp_path / "kept.zip", tmp_path / "new")
    record = WitnessRecord(again.folder, clock)
    assert record.entries() == before
    assert record.ledger.guarded()
    assert (again.folder / NOTE).read_bytes() == (lived.folder / NOTE).read_bytes()
    assert witnessed(again.folder) == witnessed(lived.folder)
    day = date(2027, 1, 4)
    pages = {shop_page(dues(one, day), one.entries(), WitnessRecord(one.folder).entries()) for one in (lived, again)}
    assert len(pages) == 1
    for one, out in ((lived, "first"), (again, "then")):
        export(one, tmp_path / out)
    for name in ("witness.csv", "witness.jsonl"):
        assert (tmp_path / "first" / name).read_bytes() == (tmp_path / "then" / name).read_bytes()
    record.correct(5, "not that machine", "Ida Demo")
    assert (len(record.entries()), len(seen.entries())) == (7, 6)
    back_up(again, tmp_path / "later.zip")
    assert read_backup(tmp_path / "later.zip").seen == record.entries()


def test_a_shop_without_a_witness_record_gets_none(lived: Shop, tmp_path: Path) -> None:
    back_up(lived, tmp_path / "kept.zip")
    again = restore(tmp_path / "kept.zip", tmp_path / "new")
    assert not WitnessRecord(again.folder).begun
    assert {path.name for path in export(again, tmp_path / "out")} == {
        "ledger.csv", "ledger.jsonl", "statements.json", "READ ME.txt",
    }  # fmt: skip


def test_a_damaged_witness_record_is_not_backed_up_over_good_ones(
    lived: Shop, seen: WitnessRecord, tmp_path: Path
) -> None:
    (lived.folder / FILE).write_bytes(b"no database")
    with pytest.raises(DamagedLedgerError):
        back_up(lived, tmp_path / "kept.zip")
    assert not (tmp_path / "kept.zip").exists()


def test_a_changed_line_of_the_witness_record_is_found(lived: Shop, seen: WitnessRecord, tmp_path: Path) -> None:
    """Even by somebody who knows how to make the sums of a backup anew: the chain says it."""
    back_up(lived, tmp_path / "kept.zip")
    with zipfile.ZipFile(tmp_path / "kept.zip") as archive:
        files = {name: archive.read(name) for name in archive.namelist()}
    files[WITNESSES] = files[WITNESSES].replace(b"lou-12", b"kit-11")
    sums = {name: hashlib.sha256(one).hexdigest() for name, one in files.items() if name != SUMS}
    files[SUMS] = json.dumps(sums).encode()
    with zipfile.ZipFile(tmp_path / "forged.zip", "w") as archive:
        for name, one in files.items():
            archive.writestr(name, one)
    with pytest.raises(DamagedLedgerError, match="entry 6"):
        restore(tmp_path / "forged.zip", tmp_path / "new")


def test_nothing_is_overwritten(lived: Shop, tmp_path: Path) -> None:
    back_up(lived, tmp_path / "kept.zip")
    with pytest.raises(BackupError, match="never overwritten"):
        back_up(lived, tmp_path / "kept.zip")
    with pytest.raises(BackupError, match="is not empty"):
        restore(tmp_path / "kept.zip", lived.folder)
    with pytest.raises(LegToLegError, match="a ledger is never replaced"):
        restore(tmp_path / "kept.zip", tmp_path / "new", f"sqlite:///{lived.folder / 'ledger.db'}")
    with pytest.raises(BackupError, match="cannot be opened"):
        restore(tmp_path / "none.zip", tmp_path / "newer")
    (tmp_path / "text.zip").write_text("no zip", encoding="ascii")
    with pytest.raises(BackupError, match="is not a backup"):
        restore(tmp_path / "text.zip", tmp_path / "newer")


@settings(max_examples=100, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(place=st.integers(0, 2**20), flip=st.integers(1, 255))
def test_a_changed_byte_is_found_or_changes_nothing(
    lived: Shop, seen: WitnessRecord, tmp_path: Path, place: int, flip: int
) -> None:
    """A zip has a few bytes that say nothing of its files (times, rights): those may change."""
    whole = tmp_path / "kept.zip"
    if not whole.exists():
        back_up(lived, whole)
    content = bytearray(whole.read_bytes())
    content[place % len(content)] ^= flip
    (tmp_path / "flipped.zip").write_bytes(content)
    read = before = read_backup(whole)
    with contextlib.suppress(LegToLegError):
        read = read_backup(tmp_path / "flipped.zip")
    assert read == before
