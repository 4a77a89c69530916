"""The ledger of tries: which card counts, what is kept of the ones before, and of which try a hand-in is."""

from __future__ import annotations

import hashlib
import json
from datetime import date
from pathlib import Path

import pytest

from dryerbench.core.identity import MOST_TRIES
from legtoleg.core.try_ledger import ASKED, CACHE, FOLDER, HELD, TRY, Deal, TryLedger, try_in

WHO, LESSON = "ada-01", "03_heater_power"
DAY = date(2026, 5, 1)


def test_the_first_card_needs_no_entry_and_each_deal_counts_one_on(tmp_path: Path) -> None:
    ledger = TryLedger(tmp_path)
    assert (ledger.current(WHO, LESSON), ledger.deals(WHO, LESSON)) == (1, [])
    assert [ledger.deal(WHO, LESSON, HELD, DAY), ledger.deal(WHO, LESSON, ASKED, DAY)] == [2, 3]
    assert ledger.deals(WHO, LESSON) == [Deal(2, "2026-05-01", HELD), Deal(3, "2026-05-01", ASKED)]
    assert TryLedger(tmp_path).current(WHO, LESSON) == 3
    assert (ledger.current("bo-02", LESSON), ledger.current(WHO, "01_made_dead")) == (1, 1)


def test_there_is_a_last_card(tmp_path: Path) -> None:
    ledger = TryLedger(tmp_path)
    numbers = [ledger.deal(WHO, LESSON, HELD, DAY) for _ in range(MOST_TRIES + 1)]
    assert numbers[-3:] == [MOST_TRIES] * 3
    assert len(ledger.deals(WHO, LESSON)) == MOST_TRIES - 1


@pytest.mark.parametrize("text", ["", "{", "7", '[{"number": "x"}]', "[3]"])
def test_a_damaged_entry_counts_as_the_first_card(tmp_path: Path, text: str) -> None:
    path = tmp_path / FOLDER / WHO / f"{LESSON}.json"
    path.parent.mkdir(parents=True)
    path.write_text(text, encoding="utf-8")
    assert TryLedger(tmp_path).current(WHO, LESSON) == 1


def test_what_was_marked_is_kept_even_over_a_read_only_copy(tmp_path: Path) -> None:
    ledger = TryLedger(tmp_path)
    notebook, page = tmp_path / "a.ipynb", tmp_path / "a.html"
    for text in ("first", "again"):
        notebook.unlink(missing_ok=True)
        notebook.write_text(text, encoding="utf-8")
        notebook.chmod(0o444)
        ledger.keep(WHO, LESSON, 1, notebook, page)
    assert ledger.kept(WHO, LESSON, 1, ".ipynb").read_text(encoding="utf-8") == "again"
    assert not ledger.kept(WHO, LESSON, 1, ".html").exists()


def _resources(cohort: Path) -> dict[str, object]:
    place = cohort / "autograded" / WHO / LESSON
    return {"nbgrader": {"student": WHO, "assignment": LESSON}, "metadata": {"path": str(place)}}


def test_a_hand_in_that_was_marked_keeps_its_try_and_a_new_one_is_of_the_last_card(tmp_path: Path) -> None:
    submitted = tmp_path / "submitted" / WHO / LESSON / f"{LESSON}.ipynb"
    submitted.parent.mkdir(parents=True)
    submitted.write_bytes(b"one")
    assert try_in(_resources(tmp_path)) == 1
    TryLedger(tmp_path).deal(WHO, LESSON, HELD, DAY)
    assert try_in(_resources(tmp_path)) == 2
    line = {"handed_in": hashlib.sha256(b"one").hexdigest(), "try_number": 1}
    cached = tmp_path / CACHE / LESSON / f"{WHO}.json"
    cached.parent.mkdir(parents=True)
    cached.write_text(json.dumps(line), encoding="utf-8")
    assert try_in(_resources(tmp_path)) == 1
    submitted.write_bytes(b"two")
    assert try_in(_resources(tmp_path)) == 2
    assert try_in({**_resources(tmp_path), TRY: 5}) == 5
    assert try_in({**_resources(tmp_path), "metadata": {}}) == 1
