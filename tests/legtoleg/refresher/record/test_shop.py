"""A shop's folder: settings and people with clear errors, the shop's day, and the note of the last hash."""

from __future__ import annotations

import shutil
from contextlib import nullcontext
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from legtoleg.intake.roster import RosterError
from legtoleg.ledger.hash_chain import DamagedLedgerError
from legtoleg.ledger.ledger import LedgerError
from legtoleg.refresher.record.shop import Settings, Shop, ShopError


def test_settings_come_back_as_written(tmp_path: Path, people: Path, clock: Any) -> None:
    at = tmp_path / "Shop #1, 100 % of it? Ω"
    odd = Settings('Demo "shop" \\ Ω', "Asia/Kathmandu", days=45, jurisdiction="x # y")
    Shop.make(at, odd, people, clock)
    assert Shop.at(at).settings == odd
    assert (at / "ledger.db").is_file()
    assert len(Shop.at(at).entries()) == 1
    with pytest.raises(ShopError, match="is a shop's folder already"):
        Shop.make(at, odd, people, clock)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("name = 3\n", "cannot be used"),
        ('name = "x"\nzone = "Mars/Base"\n', "no time zone 'Mars/Base'"),
        ('name = "x"\nzone = "UTC"\ncolor = "red"\n', "unexpected keyword argument 'color'"),
        ('name = "x"\nzone = "UTC"\ndays = -1\n', "a value is of the wrong kind"),
        ("name =", "cannot be used"),
    ],
)
def test_settings_that_cannot_be(tmp_path: Path, text: str, says: str) -> None:
    (tmp_path / "shop.toml").write_text(text, encoding="utf-8")
    with pytest.raises(ShopError, match=says):
        Shop.at(tmp_path)


def test_people_and_days(shop: Shop, clock: Any) -> None:
    assert shop.person("ada-01").name == "Ada Demo"
    with pytest.raises(ShopError, match=r"Nobody with the id 'zed-99' is in people\.csv; there are: ada-01, bo-02"):
        shop.person("zed-99")
    (shop.folder / "people.csv").write_text("id,name\nada 01,Ada\n,Bo\n", encoding="utf-8")
    with pytest.raises(RosterError, match=r"people.csv, line 2: .*\npeople.csv, line 3: "):
        shop.people()
    assert shop.today() == date(2027, 1, 4)
    assert shop.day("2027-01-04", past=True) == date(2027, 1, 4)
    assert shop.day("2030-01-03", past=False) == date(2030, 1, 3)
    with pytest.raises(ShopError, match="2027-01-05 is in the future"):
        shop.day("2027-01-05", past=True)
    for past in (True, False):
        with pytest.raises(ShopError, match="1990-01-01 is before 2027-01-04, the day on which this shop's ledger"):
            shop.day("1990-01-01", past=past)
    with pytest.raises(ShopError, match="2072-01-01 is more than 20 years ahead"):
        shop.day("2072-01-01", past=False)
    with pytest.raises(ShopError, match="'tomorrow' is not a day"):
        shop.day("tomorrow", past=False)
    with pytest.raises(ShopError, match="is not a shop's folder"):
        Shop.at(shop.folder.parent)


def test_an_older_ledger_in_the_place_of_a_newer_one_is_found(shop: Shop, clock: Any) -> None:
    shutil.copy(shop.folder / "ledger.db", shop.folder / "older.db")
    shop.enter(shop.draft("worked", "ada-01", shop.today(), topics=["isolation"], by="Ida Demo"))
    assert len(shop.entries()) == 2
    shutil.copy(shop.folder / "older.db", shop.folder / "ledger.db")
    with pytest.raises(DamagedLedgerError, match=r"entry 2, noted in last-hash.txt, is not in it"):
        shop.entries()
    with pytest.raises(DamagedLedgerError, match="entry 2"):
        shop.enter(shop.draft("worked", "ada-01", shop.today(), topics=["isolation"], by="Ida Demo"))
    (shop.folder / "last-hash.txt").write_text("what?", encoding="ascii")
    with pytest.raises(DamagedLedgerError, match=r"last-hash.txt is damaged"):
        shop.entries()
    (shop.folder / "ledger.db").unlink()
    with pytest.raises(LedgerError, match="There is no ledger"):
        Shop.at(shop.folder).entries()


def test_a_clock_that_runs_behind_enters_nothing(shop: Shop, clock: Any) -> None:
    clock.now -= timedelta(days=1)
    with pytest.raises(LedgerError, match="Set the clock right; nothing was entered"):
        shop.enter(shop.draft("worked", "ada-01", shop.today(), topics=["isolation"], by="Ida Demo"))
    assert len(shop.entries()) == 1


@pytest.mark.parametrize(("behind", "entered"), [(9 * 60 + 59, True), (10 * 60, True), (10 * 60 + 1, False)])
def test_two_machines_clocks_may_differ_by_ten_minutes(shop: Shop, clock: Any, behind: int, entered: bool) -> None:
    clock.now -= timedelta(seconds=behind)
    draft = shop.draft("worked", "ada-01", shop.today(), topics=["isolation"], by="Ida Demo")
    with nullcontext() if entered else pytest.raises(LedgerError, match="Set the clock right"):
        shop.enter(draft)
    assert len(shop.entries()) == 1 + entered
