"""What a machine does when it is asked to run: the table is what the circuits say, for machines on the shelf alone."""

from __future__ import annotations

import copy

import pytest

from dryerbench.core.tables import datasets_folder
from dryerbench.diagnosis import asked_to_run as room
from dryerbench.diagnosis.asked_to_run import FILE, asked_to_run, table_text, worked_out
from dryerbench.family.faults import faults_of
from dryerbench.family.shelf import arrangement


def test_the_table_is_what_the_circuits_say() -> None:
    assert (datasets_folder() / FILE).read_text(encoding="utf-8") == table_text()


def test_a_machine_on_the_shelf_is_not_worked_out_again(monkeypatch: pytest.MonkeyPatch) -> None:
    cellar = arrangement("cellar")
    expected = worked_out(cellar, faults_of(cellar))
    asked_to_run.cache_clear()
    with monkeypatch.context() as patch:
        patch.setattr(room, "worked_out", lambda *_: pytest.fail("worked out again"))
        found = asked_to_run(cellar)
    assert {fault: (one.heard, one.turns) for fault, one in found.items()} == {
        fault: (one.heard, one.turns) for fault, one in expected.items()
    }
    assert all(found[fault].share == pytest.approx(expected[fault].share, abs=6e-4) for fault in found)


def test_another_machine_of_the_same_name_is_worked_out() -> None:
    """Somebody who changes a file, or a fault, gets no old answers."""
    other = copy.copy(arrangement("cellar"))
    assert room._written(other) == {}
    assert room._written(arrangement("cellar"))


def test_a_fault_that_the_table_lacks_has_the_machine_worked_out(monkeypatch: pytest.MonkeyPatch) -> None:
    cellar, written = arrangement("cellar"), room._written
    monkeypatch.setattr(room, "_written", lambda made: dict(list(written(made).items())[1:]))
    asked_to_run.cache_clear()
    assert list(asked_to_run(cellar)) == list(faults_of(cellar))
    asked_to_run.cache_clear()
