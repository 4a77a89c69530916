"""The audit export: no formula runs, the lines prove themselves, and the statements are of the published structure."""

from __future__ import annotations

import csv
import hashlib
import json
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

from legtoleg.refresher.proof.export import export
from legtoleg.refresher.record.correction import correct
from legtoleg.refresher.record.shop import Shop
from legtoleg.witness.witness_record import WitnessRecord


def test_the_csv_runs_nothing(shop: Shop, tmp_path: Path, outcome: Callable[..., Any]) -> None:
    outcome(shop, "ada-01", date(2027, 1, 4))
    note = '=HYPERLINK("http://x.invalid","y")'
    data = {"trigger": "near-miss", "title": note, "topics": ["isolation"], "note": note, "by": note}
    shop.enter(shop.draft("called", "ada-01", date(2027, 1, 4), **data))
    (shop.folder / "people.csv").write_text("id,name\nada-01,=1+1\n", encoding="utf-8")
    export(shop, tmp_path / "out")
    with (tmp_path / "out" / "ledger.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == 4
    assert rows[2]["passed"] == "yes"
    assert rows[2]["points"] == "30"
    assert rows[1]["name"] == "'=1+1"
    assert rows[3]["in words"].startswith("'=HYPERLINK")
    assert not any(cell.startswith(("=", "+", "-", "@")) for row in rows for cell in row.values())


def test_the_lines_prove_themselves(shop: Shop, tmp_path: Path, outcome: Callable[..., Any]) -> None:
    """As the export's own READ ME tells an auditor to do it."""
    outcome(shop, "ada-01", date(2027, 1, 4))
    correct(shop, 3, "the wrong file", "Ida Demo")
    export(shop, tmp_path / "out")
    before = "0" * 64
    lines = (tmp_path / "out" / "ledger.jsonl").read_text(encoding="utf-8").splitlines()
    for number, line in enumerate(lines, 1):
        row = json.loads(line)
        assert (row["number"], row["before"]) == (number, before)
        whole = {"before": before, "body": row["body"], "form": "leg-to-leg/ledger/1", "number": number}
        text = json.dumps(whole, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
        before = row["hash"]
        assert before == hashlib.sha256(text.encode()).hexdigest()
    assert len(lines) == 4
    assert "not licenses" in (tmp_path / "out" / "READ ME.txt").read_text(encoding="utf-8")


def test_who_was_watched_is_in_the_export(shop: Shop, seen: WitnessRecord, tmp_path: Path) -> None:
    export(shop, tmp_path / "out")
    with (tmp_path / "out" / "witness.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    said = [(row["entry"], row["what"], row["id"], row["passed"], row["counts"], row["corrected by"]) for row in rows]
    assert said == [
        ("1", "opened", "", "", "yes", ""),
        ("2", "seen", "ada-01", "yes", "yes", ""),
        ("3", "seen", "bo-02", "yes", "no", "4"),
        ("4", "corrected", "bo-02", "", "yes", ""),
        ("5", "seen", "bo-02", "no", "yes", ""),
        ("6", "seen", "lou-12", "yes", "yes", ""),
    ]
    assert [row["watched by"] for row in rows[1:3]] == ["Ida Demo"] * 2
    assert rows[4]["steps not passed"].isdigit()
    assert not any(cell.startswith(("=", "+", "-", "@")) for row in rows for cell in row.values())
    lines = (tmp_path / "out" / "witness.jsonl").read_text(encoding="utf-8").splitlines()
    before = "0" * 64
    for line in lines:
        row = json.loads(line)
        whole = {"before": before, "body": row["body"], "form": "leg-to-leg/witness/1", "number": row["number"]}
        text = json.dumps(whole, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
        before = row["hash"]
        assert before == hashlib.sha256(text.encode()).hexdigest()
    assert before == seen.entries()[-1].hash
