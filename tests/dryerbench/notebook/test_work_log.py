"""The work log: lines added whole, damaged ones told apart, nothing written where nothing may be."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dryerbench.core.identity import MARK, WORK
from dryerbench.drawing.interactive_figure import MODE
from dryerbench.notebook import work_log as module
from dryerbench.notebook.work_log import WorkLog, read_line, work_log, written

LINES = [{"form": 1, "kind": "act", "card": "a", "at": 1.5, "act": "unplug", "with": {"°F": n}} for n in range(5)]


@pytest.fixture
def kit(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / MARK).write_text('{"apprentice": "demo-01"}')
    (tmp_path / "lessons").mkdir()
    monkeypatch.chdir(tmp_path / "lessons")
    monkeypatch.setattr(module, "_LOGS", {})
    return tmp_path


def test_lines_come_back_in_order_and_only_those_of_the_card(kit: Path) -> None:
    log = work_log("03_heater_power")
    assert log is not None
    for number, card in enumerate("aba"):
        assert log.add("act", card, number=number)
    assert [line["number"] for line in log.read("a").lines] == [0, 2]
    assert log.path == kit / WORK / "03_heater_power.jsonl"
    assert len(log.path.read_text().splitlines()) == 3


@given(cut=st.integers(0, 10_000), more=st.booleans())
def test_a_line_cut_short_at_any_byte_costs_itself_alone(
    tmp_path_factory: pytest.TempPathFactory, cut: int, more: bool
) -> None:
    path = tmp_path_factory.mktemp("log") / "log.jsonl"
    whole = b"".join(map(written, LINES))
    cut %= len(whole) + 1
    path.write_bytes(whole[:cut])
    log = WorkLog(path)
    log.read("a")
    complete = sum(len(b"".join(map(written, LINES[:n]))) - 1 <= cut for n in range(1, 6))
    if more:
        assert log.add("act", "a", act="new")
    kept = log.read("a")
    assert len(kept.lines) == complete + more
    assert kept.damaged <= 1


@given(place=st.integers(0, 10_000), byte=st.integers(0, 255))
def test_a_byte_that_changed_costs_its_line_alone(
    tmp_path_factory: pytest.TempPathFactory, place: int, byte: int
) -> None:
    path = tmp_path_factory.mktemp("log") / "log.jsonl"
    whole = bytearray(b"".join(map(written, LINES)))
    whole[place % len(whole)] = byte
    path.write_bytes(whole)
    kept = WorkLog(path).read("a")
    untouched = [read_line(written(line)) for line in LINES]
    assert all(line in untouched for line in kept.lines)
    assert len(kept.lines) >= len(LINES) - 2  # a line end that is gone makes one line of two


def test_a_line_that_was_changed_by_hand_is_damaged() -> None:
    line = json.loads(written(LINES[0]))
    assert read_line(json.dumps(line).encode()) == LINES[0]
    assert read_line(json.dumps({**line, "act": "plug_in"}).encode()) is None
    for strange in (b"[]", b"1", b"{}", b"\xff", b"[" * 100_000):
        assert read_line(strange) is None


def test_numbers_of_other_libraries_are_kept_as_numbers(kit: Path) -> None:
    import numpy as np

    log = work_log("03_heater_power")
    assert log is not None
    assert log.add("act", "a", celsius=np.float32(50), turns=np.int64(2))
    assert not log.add("act", "a", strange=object())
    assert [(line["celsius"], line["turns"]) for line in log.read("a").lines] == [(50, 2)]


def test_a_page_that_writes_elsewhere_stops_this_one(kit: Path) -> None:
    log = work_log("03_heater_power")
    assert log is not None
    log.add("act", "a", act="mine")
    other = WorkLog(log.path)
    other.read("a")
    assert other.add("act", "a", act="theirs")
    assert log.elsewhere
    assert not log.add("act", "a", act="mine")
    assert [line["act"] for line in log.read("a").lines] == ["mine", "theirs"]
    assert not log.elsewhere
    assert log.add("act", "a", act="mine")


def test_nothing_is_kept_where_a_page_is_only_run_or_nobody_may_write(
    kit: Path, monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory
) -> None:
    monkeypatch.setenv(MODE, "words")
    assert work_log("03_heater_power") is None
    monkeypatch.delenv(MODE)
    (kit / WORK).write_text("a file where the folder should be")
    log = work_log("03_heater_power")
    assert log is not None
    assert not log.add("act", "a")
    assert log.read("a").lines == []
    monkeypatch.chdir(tmp_path_factory.mktemp("elsewhere"))
    assert work_log("03_heater_power") is None


def test_a_process_killed_while_it_writes_leaves_whole_lines(tmp_path: Path) -> None:
    path = tmp_path / WORK / "log.jsonl"
    code = f"""
from pathlib import Path
from dryerbench.notebook.work_log import WorkLog
log = WorkLog(Path({str(path)!r}))
print("ready", flush=True)
while log.add("act", "a", act="unplug"):
    pass
"""
    with subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE, env=dict(os.environ)) as process:
        assert process.stdout is not None
        process.stdout.readline()
        while not path.is_file() or path.stat().st_size < 2000:
            assert process.poll() is None
        process.kill()
    log = WorkLog(path)
    before = log.read("a")
    assert before.damaged <= 1
    assert log.add("act", "a", act="after")
    assert len(log.read("a").lines) == len(before.lines) + 1
