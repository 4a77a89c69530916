"""Advised paths: the table is what the advice takes now, for each kind of fault."""

from __future__ import annotations

import os
import platform
import subprocess
import sys
from types import SimpleNamespace

import pytest

from dryerbench.bench.faults import Fault, fault_names
from dryerbench.core.tables import table
from legtoleg.marking import advised_paths
from legtoleg.marking.advised_paths import TABLE, advised_minutes, path_row


@pytest.mark.parametrize("name", ["element-3-grounded", "strap-left-on"])
def test_the_table_is_up_to_date(name: str) -> None:
    row = table(TABLE).row(fault=name)
    assert path_row(name) == (name, row["minutes"], row["readings"])


@pytest.mark.skipif(platform.machine().lower() not in ("x86_64", "amd64"), reason="These are kinds of x86 processors.")
@pytest.mark.parametrize("processor", ["Prescott", "Sandybridge", "Haswell"])
def test_the_advice_is_the_same_on_every_processor(processor: str) -> None:
    """The last digits of a sum differ with the processor, and may not decide between readings that tell as much."""
    names = ("element-1-open", "element-3-grounded", "thermistor-shorted")
    code = f"from legtoleg.marking.advised_paths import path_row\nprint([path_row(name) for name in {names!r}])"
    environment = {**os.environ, "OPENBLAS_CORETYPE": processor}
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, env=environment)
    rows = [table(TABLE).row(fault=name) for name in names]
    assert done.stdout.strip() == str([(row["fault"], row["minutes"], int(row["readings"])) for row in rows])


@pytest.mark.parametrize(("odds", "ends"), [([0.5, 0.91], True), ([0.9], True), ([0.95, 0.89], False), ([], False)])
def test_a_path_that_does_not_end_nearly_sure_is_none(
    odds: list[float], ends: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    steps = [SimpleNamespace(minutes=2.04, odds={"element-1-open": one}) for one in odds]
    monkeypatch.setattr(advised_paths, "dead_first", lambda *_: steps)
    expected = ("element-1-open", round(2.04 * len(steps), 1), len(steps)) if ends else None
    assert path_row("element-1-open") == expected


def test_the_text_of_the_table_is_that_of_its_file(monkeypatch: pytest.MonkeyPatch) -> None:
    known = {row.text("fault"): (row.text("fault"), row.number("minutes"), int(row.number("readings")))
             for row in table(TABLE).rows}  # fmt: skip
    monkeypatch.setattr(advised_paths, "path_row", known.get)
    assert advised_paths.table_text() == advised_paths.table_path().read_text(encoding="utf-8")


def test_every_fault_is_one_of_the_bench() -> None:
    rows = table(TABLE).rows
    assert {row["fault"] for row in rows} <= set(fault_names())
    assert len(rows) > 30
    assert all(0 < row["minutes"] < 180 for row in rows)


def test_two_faults_have_no_path_of_their_own() -> None:
    assert advised_minutes([Fault("cut-off-blown")]) == table(TABLE).row(fault="cut-off-blown")["minutes"]
    assert advised_minutes([Fault("cut-off-blown"), Fault("blocked-vent", 0.5)]) is None
    assert advised_minutes([]) is None
