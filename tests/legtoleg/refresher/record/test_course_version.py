"""The course's version in the ledger: in every new entry; entries from before it was kept verify as they did."""

from __future__ import annotations

import sqlite3
from datetime import date
from importlib.metadata import version
from pathlib import Path

import pytest

from legtoleg.ledger.entry import Draft
from legtoleg.ledger.hash_chain import DamagedLedgerError
from legtoleg.ledger.ledger import Ledger
from legtoleg.refresher.proof.export import HEAD, export
from legtoleg.refresher.record.correction import correct
from legtoleg.refresher.record.ledger_entry import FORM
from legtoleg.refresher.record.shop import Shop
from legtoleg.refresher.testing.issuing import issue

NOW = version("leg-to-leg")
ZERO = "0" * 64
OLD_ROWS = (
    (
        1,
        (
            '{"data":{"ledger":"eedac044d02e41ac","shop":"Demo shop","zone":"America/Denver"},'
            '"entered":"2026-11-26T22:37:38.213813+00:00","kind":"opened","on":"2026-11-26","who":""}'
        ),
        ZERO,
        "bb6d6d1e1dded68f9db4a64de583086a093c7f6f4d5489f06ce20a26865e962d",
        "opened",
    ),
    (
        2,
        (
            '{"data":{"attempt":1,"issue":"ada-01.r04541dbfdf","items":[["hand-over","01_made_dead","hand_over"],'
            '["isolation","01_made_dead","make_dead"],["circuit-numbers","03_heater_power","open_element_current"],'
            '["meter-numbers","04_trusting_the_meter","which_phantom"],'
            '["dead-test","04_trusting_the_meter","still_there"],["path-to-case","05_path_to_case","number_to_case"],'
            '["shock-and-ground","05_path_to_case","volts_unbonded"],'
            '["circuit-numbers","07_tracing_the_circuit","next_reading"],'
            '["live-reading","07_tracing_the_circuit","live_work"],["vent-and-lint","08_air_and_drying","cleaning"],'
            '["back-to-power","09_open_and_close","close_up"],["safety-switches","10_call_to_close","weekend"]]},'
            '"entered":"2026-11-26T22:37:53.635222+00:00","kind":"issued","on":"2026-11-26","who":"ada-01"}'
        ),
        "bb6d6d1e1dded68f9db4a64de583086a093c7f6f4d5489f06ce20a26865e962d",
        "19bff2f0d9ea652c01781b9ef1be3935a6ebb8ea4a793eef6de5a0dd389f2f77",
        "issued ada-01.r04541dbfdf",
    ),
)
"""Two rows as the version before this one entered them, with the hashes that it gave them."""


def stored(path: Path, rows: tuple[tuple[object, ...], ...]) -> str:
    url = f"sqlite:///{path}"
    ledger = Ledger(url, FORM)
    with ledger._writing() as connection:
        ledger._define(connection)
    with sqlite3.connect(path) as database:
        database.executemany("INSERT INTO entries VALUES (?, ?, ?, ?, ?)", rows)
    database.close()
    return url


def test_an_old_ledger_verifies_and_is_added_to(tmp_path: Path, shop: Shop) -> None:
    url = stored(tmp_path / "old.db", OLD_ROWS)
    entries = Ledger.open(url, FORM).entries()
    assert [entry.hash for entry in entries] == [str(row[3]) for row in OLD_ROWS]
    assert "course" not in entries[0].data
    added = Ledger.open(url, FORM).append(shop.draft("talked", "ada-01", date(2026, 11, 27), by="Ida Demo", note=""))
    assert added.before == OLD_ROWS[-1][3]
    again = Ledger.open(url, FORM).entries()[-1]
    assert (again.data["course"], again.hash) == (NOW, added.hash)


def test_the_version_is_part_of_what_is_hashed(tmp_path: Path) -> None:
    number, body, *rest = OLD_ROWS[0]
    changed = str(body).replace('"data":{', '"data":{"course":"0.0.1",')
    url = stored(tmp_path / "old.db", ((number, changed, *rest),))
    with pytest.raises(DamagedLedgerError, match="its hash does not fit"):
        Ledger.open(url, FORM).entries()


def test_every_new_entry_says_its_course(shop: Shop, tmp_path: Path) -> None:
    issue(shop, "ada-01")
    shop.enter(shop.draft("talked", "ada-01", shop.today(), by="Ida Demo", note=""))
    correct(shop, 3, "wrong person", "Ida Demo")
    entries = shop.entries()
    assert [entry.kind for entry in entries] == ["opened", "issued", "talked", "corrected"]
    assert [entry.data["course"] for entry in entries] == [NOW] * 4
    shop.enter(Draft("talked", "ada-01", shop.today(), shop.clock(), {"by": "Ida Demo", "note": ""}))
    text = export(shop, tmp_path / "out")[0].read_text(encoding="utf-8-sig").splitlines()
    column = HEAD.index("course version")
    assert [line.split(",")[column - len(HEAD)] for line in text[1:]] == [NOW] * 4 + [""]
